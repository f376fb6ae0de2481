import type { Page } from "playwright-core";

/**
 * How far the text of shown elements stands out from what lies behind it.
 *
 * Source: WCAG 2.2, relative luminance and contrast ratio; 1.4.3 asks for 4.5.
 *
 * @param selector of the elements
 */
export function textContrasts(page: Page, selector: string): Promise<number[]> {
  return page.evaluate((wanted) => {
    const parts = (color: string) => (color.match(/[\d.]+/g) ?? []).map(Number);
    const luminance = (color: string) => {
      const [red = 0, green = 0, blue = 0] = parts(color).map((part) => {
        const value = part / 255;
        return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const ground = (element: Element | null): string => {
      if (element === null) return "rgb(255,255,255)";
      const color = getComputedStyle(element).backgroundColor;
      return (parts(color)[3] ?? 1) === 0 ? ground(element.parentElement) : color;
    };
    return [...document.querySelectorAll<HTMLElement>(wanted)]
      .filter((element) => element.offsetParent !== null)
      .map((element) => {
        const ink = luminance(getComputedStyle(element).color);
        const paper = luminance(ground(element));
        return (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
      });
  }, selector);
}
