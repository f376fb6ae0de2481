/** Hands a file to whoever sits before the page. */
export function download(name: string, type: string, content: BlobPart): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** A picture of the page as a file of its own: the page's colours are written into it. */
export function standaloneSvg(svg: SVGSVGElement): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const style = getComputedStyle(document.documentElement);
  const variables = [
    ...new Set(copy.outerHTML.match(/--[\w-]+/g) ?? []),
    "--paper",
    "--ink",
    "--soft",
    "--rule",
    "--accent",
    "--tint",
    "--bind",
  ];
  const colours = variables.map((name) => `${name}:${style.getPropertyValue(name)}`).join(";");
  const rules = [...document.styleSheets]
    .flatMap((sheet) => [...sheet.cssRules])
    .filter((rule) => rule instanceof CSSStyleRule && /^svg|^\.section|^\.axis/.test(rule.selectorText))
    .map((rule) => rule.cssText)
    .join("\n");
  const first = document.createElementNS("http://www.w3.org/2000/svg", "style");
  first.textContent = `svg{${colours};background:var(--paper)}text{font:13px system-ui,sans-serif;fill:var(--ink)}${rules}`;
  const hatches = document.querySelector("svg.hatches defs");
  if (hatches !== null) copy.prepend(hatches.cloneNode(true));
  copy.prepend(first);
  return new XMLSerializer().serializeToString(copy);
}

/** The same as pixels, twice as fine as on the page. */
export async function pngOf(svg: SVGSVGElement): Promise<Blob> {
  const { width, height } = svg.viewBox.baseVal;
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(standaloneSvg(svg))}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = 2 * width;
  canvas.height = 2 * height;
  canvas.getContext("2d")!.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob === null ? reject(new Error("no picture was made")) : resolve(blob)), "image/png");
  });
}
