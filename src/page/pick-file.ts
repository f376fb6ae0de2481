/** A scenario is a page of text: more is not even read, and the engine says so in the words of the command line. */
const MOST_BYTES = 2_000_000;

/** Takes a scenario file that is chosen or dropped on the page. */
export function pickFile(onText: (text: string, fileName: string) => void): void {
  const take = async (file: File | undefined) => {
    if (file === undefined) return;
    onText(await file.slice(0, MOST_BYTES).text(), file.name);
  };
  const input = document.getElementById("open") as HTMLInputElement;
  input.addEventListener("change", async () => {
    await take(input.files?.[0]);
    input.value = "";
  });
  document.addEventListener("dragover", (event) => {
    event.preventDefault();
    document.body.dataset.dropping = "yes";
  });
  document.addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) delete document.body.dataset.dropping;
  });
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    delete document.body.dataset.dropping;
    void take(event.dataTransfer?.files[0]);
  });
}
