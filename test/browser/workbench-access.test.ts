import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { textContrasts } from "../support/contrast.ts";
import { workbench } from "../support/workbench.ts";

const { folder, small, saved, open } = workbench();

describe("the workbench for everyone", { timeout: 120_000 }, () => {
  it.each([320, 390, 1280])("does not run over sideways at %d px, with one variant or two", async (width) => {
    const { page } = await open(saved(small("laminating-roller.yaml")), width);
    for (let round = 0; round < 2; round += 1) {
      const [content, view] = await page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth]);
      expect(content).toBeLessThanOrEqual(view as number);
      if (round === 0) await page.locator("#split").click();
      await page.locator(".headline").nth(1).waitFor();
    }
    await page.context().close();
  });

  it("names every control with its unit, every picture with its finding, and tells the yield in a live region", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    await page.evaluate(() => {
      for (const details of document.querySelectorAll("details")) details.open = true;
    });
    const tree = await page.locator("body").ariaSnapshot();
    expect(tree).toContain('slider "shaft spacer (shaft), tolerance ±, mm"');
    expect(tree).toMatch(/slider "hot, at work: housing, nominal, °C"/);
    expect(tree).toMatch(/img "Variant 1\. Preload, window .* N\. On the bench: median/);
    expect(tree).toMatch(/status: [\d.]+ % good in every state/);
    const controls = page.locator("#controls input, #controls select");
    const names = await controls.evaluateAll((all) =>
      (all as HTMLInputElement[]).map(
        (input) => input.getAttribute("aria-label") ?? input.labels?.[0]?.textContent ?? "",
      ),
    );
    expect(names.length).toBeGreaterThan(30);
    expect(names.filter((name) => name.trim() === "")).toEqual([]);
    const sliders = await page.getByRole("slider").evaluateAll((all) =>
      all.map((input) => ({
        name: input.getAttribute("aria-label") ?? "",
        value: input.getAttribute("aria-valuetext") ?? "",
      })),
    );
    for (const { name, value } of sliders) {
      const unit = name.split(", ").at(-1)!;
      expect(value.endsWith(` ${unit}`), `${name}: ${value}`).toBe(true);
    }
    await page.context().close();
  });

  it("can be read in light and dark: text stands out by 4.5 or more (WCAG 2.2, 1.4.3)", async () => {
    for (const scheme of ["light", "dark"] as const) {
      const { page } = await open(saved(small("laminating-roller.yaml")), 1280, scheme);
      const ratios = await textContrasts(
        page,
        "h1,h2,p,dt,dd,label,legend,summary,button:enabled,select,li,small,output,input[type=text]",
      );
      expect(ratios.length).toBeGreaterThan(60);
      expect(Math.min(...ratios), scheme).toBeGreaterThanOrEqual(4.5);
      await page.context().close();
    }
  });

  it("shows a hostile title as text and runs nothing of it", async () => {
    const text = readFileSync(join(folder, small("laminating-roller.yaml")), "utf8");
    const hostile = '</script><img src=x onerror="document.title=1"><!-- <script>alert(1)</script>';
    writeFileSync(join(folder, "hostile.yaml"), text.replace(/^title:.*$/m, `title: ${JSON.stringify(hostile)}`));
    const { page, complaints, requests } = await open(saved("hostile.yaml"));
    await expect(page.locator("h1").textContent()).resolves.toBe(hostile);
    expect(complaints).toEqual([]);
    expect(requests.filter((url) => !/^(?:data:|blob:)/.test(url))).toEqual([page.url()]);
    await page.context().close();
  });
});
