import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { tableFromIPC } from "apache-arrow";
import { describe, expect, it } from "vitest";
import { seatspread } from "../support/cli.ts";
import { settled, workbench } from "../support/workbench.ts";

const { folder, small, saved, open, download, resultOf, commandLine } = workbench();

/** Every column of an Arrow file by name, however its rows are cut into batches. */
function columnsOf(bytes: Buffer): Record<string, number[]> {
  const table = tableFromIPC(bytes);
  return Object.fromEntries(
    table.schema.fields.map(({ name }) => [name, Array.from(table.getChild(name)!.toArray() as Float64Array)]),
  );
}

/** Rows and metadata of an Arrow file, without the platform that wrote it. */
function contentsOf(bytes: Buffer): { readonly rows: unknown[]; readonly metadata: unknown } {
  const table = tableFromIPC(bytes);
  const { platform, ...metadata } = Object.fromEntries(table.schema.metadata);
  expect(platform).toMatch(/\w/);
  return { rows: table.toArray().map((row) => row.toJSON()), metadata };
}

describe("the workbench as a file", { timeout: 120_000 }, () => {
  it("asks for nothing but itself and its own engine, and complains of nothing", async () => {
    const { page, requests, complaints } = await open(saved(small("laminating-roller.yaml")));
    const others = requests.filter((url) => !/^(?:data:|blob:)/.test(url) && url !== page.url());
    expect(others).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it.each(["laminating-roller.yaml", "encoder-stage.yaml", "drying-drum-spindle.yaml"])(
    "finds the numbers of the command line to the last bit: %s",
    async (name) => {
      const scenario = small(name, name.startsWith("laminating") ? 20_000 : 5000);
      const { page } = await open(saved(scenario));
      expect(await resultOf(page)).toEqual(commandLine(scenario));
      await page.context().close();
    },
  );

  it("carries measured parts along, which a page could not read", async () => {
    const text = readFileSync(join(folder, small("laminating-roller.yaml")), "utf8");
    const measured = "length: { measuredFile: measured/spacers.csv, column: length }";
    writeFileSync(join(folder, "scenarios/measured.yaml"), text.replace("length: 31.766 ±0.004", measured));
    const { page } = await open(saved("scenarios/measured.yaml"));
    expect(await resultOf(page)).toEqual(commandLine("scenarios/measured.yaml"));
    await expect(page.getByRole("slider", { name: /shaft spacer/ }).count()).resolves.toBe(0);
    await page.context().close();
  });

  it("follows a slider with quick looks, and settles on the whole run that the saved scenario gives", async () => {
    const scenario = small("laminating-roller.yaml");
    const { page } = await open(saved(scenario));
    const slider = page.getByRole("slider", { name: "housing shoulder spacing (housing), nominal, mm" });
    const before = await page.locator("#headline").textContent();
    await slider.evaluate((input: HTMLInputElement) => {
      input.value = "31.997";
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    await page.locator('.headline[data-whole="no"]').waitFor();
    await expect(page.locator(".basis").textContent()).resolves.toMatch(/^Quick look: the first [\d\u202f]+ units/);
    await slider.evaluate((input: HTMLInputElement) => input.dispatchEvent(new Event("change", { bubbles: true })));
    await settled(page);
    const after = await page.locator("#headline").textContent();
    expect(after).not.toBe(before);
    expect(after).toContain("131\u00a0µm");

    const file = await download(page, () => page.keyboard.press("Control+s"));
    expect(file.text).toContain("length: 31.997 ±0.006");
    expect(file.text).toContain("# of the hub around the bearings; it carries the preload");
    writeFileSync(join(folder, scenario), file.text);
    expect(await resultOf(page)).toEqual(commandLine(scenario));
    await page.context().close();
  });

  it("follows a slider that never rests, and ends with what it was left at", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    const slider = page.getByRole("slider", { name: "housing shoulder spacing (housing), nominal, mm" });
    const pictures = await slider.evaluate(async (input: HTMLInputElement) => {
      let seen = 0;
      const observer = new MutationObserver((changes) => {
        seen += changes.length;
      });
      observer.observe(document.body, { attributeFilter: ["data-answered"] });
      // Faster than any look, as a mouse tells its places.
      for (let step = 0; step < 150; step += 1) {
        input.value = String(31.99 + (step % 10) * 0.001);
        input.dispatchEvent(new Event("input", { bubbles: true }));
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
      observer.disconnect();
      input.value = "31.997";
      input.dispatchEvent(new Event("input", { bubbles: true }));
      input.dispatchEvent(new Event("change", { bubbles: true }));
      return seen;
    });
    expect(pictures).toBeGreaterThan(3);
    await settled(page);
    await expect(page.locator("#headline").textContent()).resolves.toContain("131\u00a0µm");
    await page.context().close();
  });

  it("takes changes back and makes them again by key, and all of them by reset", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    const group = page.getByLabel("clearance group, both bearings");
    await group.selectOption({ label: "CN" });
    await settled(page);
    await page.getByLabel("shim (shaft), with limits, mm").fill("0.110 ±0.002");
    await page.getByLabel("shim (shaft), with limits, mm").press("Enter");
    await settled(page);
    await expect(page.locator("#headline").textContent()).resolves.toContain("124\u00a0µm");
    await page.locator("#undo").focus();
    await page.keyboard.press("Control+z");
    await expect(page.getByLabel("shim (shaft), with limits, mm").inputValue()).resolves.toBe("0.100 ±0.002");
    await page.keyboard.press("Control+z");
    await expect(group.locator("option:checked").textContent()).resolves.toBe("C3");
    await page.keyboard.press("Control+Shift+z");
    await expect(group.locator("option:checked").textContent()).resolves.toBe("CN");
    await page.locator("#reset").click();
    await expect(group.locator("option:checked").textContent()).resolves.toBe("C3");
    await expect(page.locator("#reset").isDisabled()).resolves.toBe(true);
    await page.context().close();
  });

  it("moves a slider by the arrow keys in steps of a micrometre", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    const slider = page.getByRole("slider", { name: "shaft spacer (shaft), nominal, mm" });
    await slider.focus();
    await page.keyboard.press("ArrowRight");
    await expect(slider.getAttribute("aria-valuetext")).resolves.toBe("31.767 mm");
    await settled(page);
    await expect(page.locator("#headline").textContent()).resolves.toContain("133\u00a0µm");
    await page.context().close();
  });

  it("sets two variants beside one another, each with its own numbers", async () => {
    const scenario = small("laminating-roller.yaml");
    const { page } = await open(saved(scenario));
    await page.locator("#split").click();
    await page.locator(".headline").nth(1).waitFor();
    await page.getByLabel("clearance group, both bearings").selectOption({ label: "C4" });
    await settled(page);
    const lines = await page.locator(".headline .main b").allTextContents();
    expect(lines).toHaveLength(2);
    expect(lines[0]).not.toBe(lines[1]);
    await expect(page.locator('#view-preload svg[role="img"]').count()).resolves.toBe(2);
    const second = await resultOf(page);
    await page.getByRole("radio", { name: "Variant 1" }).check();
    const first = await resultOf(page);
    expect(first).toEqual(commandLine(scenario));
    expect(second).not.toEqual(first);
    await page.context().close();
  });

  it("tells of a bad file in the words of the command line, and keeps what is open", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    const title = await page.locator("h1").textContent();
    const good = readFileSync(join(folder, "scenarios/laminating-roller.yaml"), "utf8");
    const bad: Record<string, string> = {
      "unknown-key.yaml": good.replace("clearanceGroup", "clearanceGruop"),
      "wrong-unit.yaml": good.replace("900 mm2", "900 N").replace("20 ±2 degC", "20 ±2 mm"),
      "no-yaml.yaml": "a: [1, 2\nb: {",
      "empty.yaml": "",
    };
    for (const [name, text] of Object.entries(bad)) {
      writeFileSync(join(folder, name), text);
      const { stderr, code } = seatspread(folder, ["check", name]);
      expect(code).toBe(2);
      const transfer = await page.evaluateHandle(
        ([fileName, content]) => {
          const data = new DataTransfer();
          data.items.add(new File([content as string], fileName as string));
          return data;
        },
        [name, text],
      );
      await page.evaluate(() => {
        document.getElementById("problems")!.textContent = "";
      });
      await page.dispatchEvent("body", "drop", { dataTransfer: transfer });
      await page.locator("#problems li").first().waitFor();
      const told = (await page.locator("#problems li").allTextContents()).map((line) => `seatspread: ${line}`);
      expect(told, name).toEqual(stderr.trimEnd().split("\n"));
      await expect(page.locator("h1").textContent()).resolves.toBe(title);
    }
    await page.context().close();
  });

  it("marks the control that a bad value stands in, and shows no numbers as if they were of it", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    const text = page.getByLabel("shim (shaft), with limits, mm");
    await text.fill("0.1 ±-3 N");
    await text.press("Enter");
    await page.locator("#problems li").first().waitFor();
    await expect(text.getAttribute("aria-invalid")).resolves.toBe("true");
    await expect(page.locator("#problems").textContent()).resolves.toContain("chain.shim.length");
    await page.locator("#undo").click();
    await settled(page);
    await expect(page.locator("#problems").textContent()).resolves.toBe("");
    await page.context().close();
  });

  it("opens another scenario from a file", async () => {
    const { page } = await open(saved(small("laminating-roller.yaml")));
    const other = small("belt-tensioner.yaml");
    await page.locator("#open").setInputFiles(join(folder, other));
    await page.waitForFunction(() => document.querySelector("h1")?.textContent !== "Heated laminating roller");
    await settled(page);
    await expect(page.getByLabel("arrangement").locator("option:checked").textContent()).resolves.toBe(
      "back-to-back (O)",
    );
    const { provenance: _, ...found } = await resultOf(page);
    const { provenance: __, ...wanted } = commandLine(other);
    expect(found).toEqual(wanted);
    await page.context().close();
  });

  it("exports the extended outputs where the scenario asks for them, and offers nothing where it does not", async () => {
    const scenario = small("grinding-spindle.yaml", 4096);
    const { page } = await open(saved(scenario));
    const { bytes } = await download(page, () => page.locator("#export").selectOption("extended"));
    expect(seatspread(folder, ["run", scenario, "--quiet"]).code).toBeLessThan(2);
    const made = readFileSync(join(folder, "out/small-grinding-spindle/extended.arrow"));
    expect(Object.keys(columnsOf(made)).length).toBeGreaterThan(5);
    expect(columnsOf(bytes)).toEqual(columnsOf(made));
    await page.context().close();
    const other = await open(saved(small("laminating-roller.yaml")));
    await expect(other.page.locator("#export option[value=extended]").getAttribute("hidden")).resolves.toBe("");
    await other.page.context().close();
  });

  it("exports report, Arrow, CSV, SVG and PNG", async () => {
    const scenario = small("laminating-roller.yaml");
    const { page } = await open(saved(scenario));
    const choose = (kind: string) => download(page, () => page.locator("#export").selectOption(kind));
    const report = await choose("report");
    expect(report.text).toMatch(/^<!doctype html>/);
    seatspread(folder, ["run", scenario, "--quiet"]);
    const samples = await choose("samples");
    const made = readFileSync(join(folder, "out/small-laminating-roller/samples.arrow"));
    expect(samples.bytes.subarray(0, 6).toString()).toBe("ARROW1");
    expect(columnsOf(samples.bytes)).toEqual(columnsOf(made));
    const summary = await choose("summary");
    const summarised = contentsOf(readFileSync(join(folder, "out/small-laminating-roller/summary.arrow")));
    expect(summarised.rows.length).toBeGreaterThan(2);
    expect(contentsOf(summary.bytes)).toEqual(summarised);
    const csv = await choose("csv");
    const rows = csv.text.trimEnd().split("\r\n");
    expect(rows).toHaveLength(5001);
    expect(new Set(rows.slice(0, 50).map((row) => row.split(",").length)).size).toBe(1);
    const svg = await download(page, () =>
      page.getByRole("button", { name: "Save “Preload in each state” as SVG" }).click(),
    );
    expect(svg.text).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg"/);
    expect(svg.text).not.toMatch(/var\(--(?!\w)/);
    const png = await download(page, () =>
      page.getByRole("button", { name: "Save “The pair in section” as PNG" }).click(),
    );
    expect(png.bytes.subarray(1, 4).toString()).toBe("PNG");
    expect(png.bytes.length).toBeGreaterThan(5000);
    await page.context().close();
  });
});
