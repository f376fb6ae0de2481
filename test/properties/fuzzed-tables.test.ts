import { describe, expect, test } from "vitest";
import { InputError } from "../../src/errors.ts";
import { fitMeasured } from "../../src/studies/fit/fit.ts";
import { type MeasuredRequest, readMeasured } from "../../src/tables/measured.ts";
import { openSampleFile } from "../../src/tables/samples.ts";
import { nonFinite } from "../support/judge.ts";
import { type Dice, dice } from "../support/mutate.ts";
import { TEST_MAKER } from "../support/variable.ts";

const TABLES = 400;
const COMMA: MeasuredRequest = { separator: ",", decimal: ".", column: "length", skipBad: false };
const SEMICOLON: MeasuredRequest = { ...COMMA, separator: ";", decimal: "," };

const LINES = Array.from(
  { length: 40 },
  (_, row) => `${row + 1},${(31.764 + 0.0001 * ((row * 7) % 40)).toFixed(4)},lot ${row % 3}`,
);
const CSV = `row,length [mm],lot\n${LINES.join("\n")}\n`;

function arrow(): Uint8Array {
  const parts: Uint8Array[] = [];
  const specs = [{ name: "lengthMm", unit: "mm" as const, description: "measured", type: "float64" as const }];
  const file = openSampleFile(specs, {}, (bytes) => parts.push(bytes.slice()));
  const values = Float64Array.from({ length: 40 }, (_, row) => 31.764 + 0.0001 * ((row * 7) % 40));
  file.append({ count: 40, columns: [{ name: "lengthMm", unit: "mm", description: "measured", values }] });
  file.close();
  return Uint8Array.from(parts.flatMap((part) => [...part]));
}

/** Refused by `InputError`, or read and summed up to finite figures; anything else throws. */
function outcome(bytes: Uint8Array, request: MeasuredRequest): "refused" | "read" {
  try {
    const { values, name, bad, lines } = readMeasured(bytes, "table", request);
    expect(values.every(Number.isFinite)).toBe(true);
    expect(lines).toHaveLength(values.length);
    const { finding } = fitMeasured({
      file: "table",
      column: name,
      unit: "mm",
      values,
      skipped: bad,
      limits: { low: 31.76, high: 31.77 },
      lots: null,
      gauge: null,
      gaugeStudy: null,
      table: new Uint8Array(),
      asked: {},
      maker: TEST_MAKER,
    });
    expect(nonFinite(finding.values)).toEqual([]);
    return "read";
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.problems.length).toBeGreaterThan(0);
    for (const { file, expected } of error.problems) expect(`${file ?? ""}${expected}`).not.toBe("");
    return "refused";
  }
}

const PIECES = [
  "NaN",
  "inf",
  "-Infinity",
  "1e999",
  "1e200",
  "",
  " ",
  '"',
  '"",',
  ",,",
  ";",
  "\t",
  "31,7660",
  "12 um",
  "3 N",
  "20 degC",
  "0x1F",
  "\u0000",
  "\ufeff",
  "\r\n",
  "\r",
  "💥",
  "=1+1",
  "9".repeat(400),
];

function damagedText(text: string, roll: Dice): string {
  const cells = text.split(/(?=[,\n])/);
  for (let step = 0, steps = 1 + roll.below(3); step < steps; step += 1) {
    const at = roll.below(cells.length);
    const kind = roll.below(5);
    if (kind === 0) cells.splice(at, 1 + roll.below(4));
    else if (kind === 1) cells.splice(at, 0, roll.pick(cells));
    else if (kind === 2) cells[at] = cells[at].replace(/[^,\n]+/, () => roll.pick(PIECES));
    else if (kind === 3) cells[at] += roll.pick(PIECES);
    else cells.length = Math.max(1, at);
  }
  return cells.join("");
}

function count(outcomes: readonly string[], which: string): number {
  return outcomes.filter((each) => each === which).length;
}

describe("a table of measured parts", () => {
  test("is read as it is, with a byte-order mark, with CRLF, with decimal commas, and as Arrow: the same values", () => {
    const bytes = (text: string) => new TextEncoder().encode(text);
    const plain = readMeasured(bytes(CSV), "table", COMMA).values;
    expect(plain).toHaveLength(40);
    expect(readMeasured(bytes(`\ufeff${CSV.replaceAll("\n", "\r\n")}`), "table", COMMA).values).toEqual(plain);
    const commas = CSV.replaceAll(",", ";").replaceAll(".", ",");
    expect(readMeasured(bytes(commas), "table", SEMICOLON).values).toEqual(plain);
    const fromArrow = readMeasured(arrow(), "table", { ...COMMA, column: "lengthMm" }).values;
    expect(Math.max(...fromArrow.map((value, row) => Math.abs(value - plain[row])))).toBeLessThan(1e-12);
  });

  test(`damaged as text in ${TABLES} ways is refused by name or read to finite values`, () => {
    const roll = dice(5);
    const outcomes = Array.from({ length: TABLES }, () => {
      const semicolons = roll.next() < 0.3;
      const text = semicolons ? CSV.replaceAll(",", ";").replaceAll(".", ",") : CSV;
      const request = semicolons ? SEMICOLON : COMMA;
      return outcome(new TextEncoder().encode(damagedText(text, roll)), { ...request, skipBad: roll.next() < 0.3 });
    });
    expect(count(outcomes, "refused")).toBeGreaterThan(TABLES / 4);
    expect(count(outcomes, "read")).toBeGreaterThan(TABLES / 10);
  });

  test(`damaged as bytes (cut, bits turned in the text or in the values of an Arrow file) is refused by name or read to finite values`, () => {
    const roll = dice(6);
    const sources = [arrow(), new TextEncoder().encode(CSV)] as const;
    const outcomes = Array.from({ length: TABLES }, (_, index) => {
      const isText = index % 4 === 3;
      let bytes = Uint8Array.from(sources[isText ? 1 : 0]);
      const [from, to] = isText ? [0, bytes.length] : bodyOf(bytes);
      if (roll.below(2) === 0) bytes = bytes.slice(0, roll.below(bytes.length));
      else {
        for (let turn = 0, turns = 1 + roll.below(8); turn < turns; turn += 1) {
          bytes[from + roll.below(to - from)] ^= 1 << roll.below(8);
        }
      }
      return outcome(bytes, { ...COMMA, column: isText ? "length" : "lengthMm", skipBad: roll.next() < 0.3 });
    });
    expect(count(outcomes, "refused")).toBeGreaterThan(TABLES / 4);
    expect(count(outcomes, "read")).toBeGreaterThan(TABLES / 10);
  });
});

/** Where the 40 values stand in the Arrow file. */
function bodyOf(bytes: Uint8Array): readonly [number, number] {
  const first = new Uint8Array(Float64Array.of(31.764).buffer);
  for (let at = 0; at < bytes.length; at += 8)
    if (first.every((byte, k) => bytes[at + k] === byte)) return [at, at + 320];
  throw new Error("no values");
}
