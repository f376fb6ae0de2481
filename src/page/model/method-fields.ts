import { type Choice, drawnField, type Field, valueAt } from "./field.ts";

/** What a method starts with where the scenario does not say: the page's own proposals, to be replaced by real figures. */
const PROPOSALS: readonly Choice[] = [
  { value: { method: "position" }, words: "by position (shoulders, spacers, shims)" },
  {
    value: { method: "shim", shim: { measure: "play", step: "0.02 mm", range: "-0.2..0.2 mm", error: "0 ±6 um" } },
    words: "shims chosen for each unit",
  },
  { value: { method: "adjuster", adjuster: { advance: "12 ±3 um" } }, words: "adjuster, set on the bench" },
  {
    value: {
      method: "spring",
      spring: {
        form: "wave",
        slides: "outer-b",
        freeLength: "5.0 ±0.2 mm",
        rate: "60 ±6 N/mm",
        solidHeight: "2.0 ±0.1 mm",
      },
    },
    words: "spring",
  },
];

/** The choice of the method, and the parameters of the one that is set. */
export function methodFields(content: unknown): Field[] {
  const method = valueAt(content, "preload.method") ?? "position";
  const current = valueAt(content, "preload");
  const choices = PROPOSALS.map((proposal) =>
    valueAt(proposal.value, "method") === method && current !== undefined ? { ...proposal, value: current } : proposal,
  );
  const fields: Field[] = [
    {
      path: "preload",
      label: "how the preload is set",
      kind: "choice",
      choices,
      hint: "figures of a new method are proposals",
      absent: "by position (nothing else is said)",
    },
  ];
  const group = valueAt(content, `preload.${String(method)}`);
  if (group === null || typeof group !== "object") return fields;
  return [
    ...fields,
    ...Object.keys(group)
      .filter((key) => !["form", "slides", "measure", "parallel", "series"].includes(key))
      .flatMap((key) =>
        drawnField(
          content,
          `preload.${String(method)}.${key}`,
          key.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`),
        ),
      ),
  ];
}
