import { Field, Float64, makeData, RecordBatch, RecordBatchFileWriter, Schema, Struct } from "apache-arrow";
import { describe, expect, it } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { type MeasuredRequest, readMeasured, splitColumnName } from "../../../src/tables/measured.ts";

const PLAIN: MeasuredRequest = { separator: ",", decimal: ".", skipBad: false };
const bytes = (text: string) => new TextEncoder().encode(text);
const read = (text: string, request: Partial<MeasuredRequest> = {}) =>
  readMeasured(bytes(text), "t.csv", { ...PLAIN, ...request });

function problems(action: () => unknown) {
  try {
    action();
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("a column of a text table", () => {
  it("is read in the unit of its name, whatever line ends and byte-order mark", () => {
    const column = read("\ufeffpart,length [um]\r\n1,12\r\n2,13.5\r\n", { column: "length" });
    expect(Array.from(column.values)).toEqual([0.012, 0.0135]);
    expect(column.lines).toEqual([2, 3]);
    expect(column.name).toBe("length");
    expect(column.dimension).toBe("length");
  });

  it("is the only one when none is named, and in --unit when its name has none", () => {
    expect(Array.from(read("force\n12\n13\n", { unit: "kN" }).values)).toEqual([12_000, 13_000]);
    expect(problems(() => read("a [mm],b [mm]\n1,2\n"))[0]).toMatchObject({ code: "missing", path: "--column" });
    expect(problems(() => read("force\n12\n"))[0]).toMatchObject({
      code: "wrong-unit",
      hint: 'Name the column "force [mm]" or say --unit mm',
    });
  });

  it("reads decimal commas only when told, and names the option otherwise", () => {
    const text = "nr;length [mm]\n1;31,766\n2;31,767\n";
    const told = read(text, { column: "length", separator: ";", decimal: "," });
    expect(Array.from(told.values)).toEqual([31.766, 31.767]);
    expect(problems(() => read(text, { column: "length" }))[0].hint).toContain('--separator ";"');
    expect(problems(() => read(text, { column: "length", separator: ";" }))[0].got).toContain('--decimal ","');
    const points = "nr;length [mm]\n1;31.766\n";
    expect(problems(() => read(points, { column: "length", separator: ";", decimal: "," }))[0].got).toContain(
      "decimal point",
    );
  });

  it("refuses bad rows, each by its line", () => {
    const text = "part,length [mm]\n1,abc\n2,32\n3,\n4,32,9\n5,Infinity\n6,12 N\n";
    const found = problems(() => read(text, { column: "length" }));
    expect(found.map(({ line }) => line)).toEqual([2, 4, 5, 6, 7]);
    expect(found.at(-1)?.hint).toContain("--skip-bad");
  });

  it("leaves bad rows out when asked, and lists them", () => {
    const column = read("part,length [mm]\n1,abc\n2,32\n\n3,\n4,33\n", { column: "length", skipBad: true });
    expect(Array.from(column.values)).toEqual([32, 33]);
    expect(column.lines).toEqual([3, 6]);
    expect(column.bad.map(({ line }) => line)).toEqual([2, 5]);
  });

  it("tells at most twenty bad rows one by one and counts the rest", () => {
    const text = `x [mm]\n${"bad\n".repeat(50)}`;
    const found = problems(() => read(text));
    expect(found).toHaveLength(20);
    expect(found.at(-1)?.hint).toContain("30 more such rows");
  });

  it("refuses more rows than can be looked at, before it takes them apart; none is left out silently", () => {
    expect(read(`x [mm]\n${"1\n".repeat(250_000)}`).values).toHaveLength(250_000);
    const found = problems(() => read(`x [mm]\n${"1\n".repeat(10_000_000)}`));
    expect(found[0]).toMatchObject({ code: "too-large", expected: "a table of at most 250000 rows", file: "t.csv" });
    expect(found[0].hint).toContain("Read a part of it");
  });

  it("refuses what is no table: empty, without names, one name twice, broken quotes, no UTF-8", () => {
    expect(problems(() => read(""))[0].code).toBe("syntax");
    expect(problems(() => read("1,2\n3,4\n", { unit: "mm" }))[0].expected).toContain("names of the columns");
    expect(problems(() => read("a [mm],a [mm]\n1,2\n", { column: "a" }))[0].expected).toContain("name of its own");
    expect(problems(() => read('a [mm]\n"1\n'))[0].code).toBe("syntax");
    expect(problems(() => readMeasured(Uint8Array.of(0xc3, 0x28), "t.csv", PLAIN))[0].got).toBe("bytes that are not");
    expect(problems(() => read("a [mm]\n", {}))[0].expected).toBe("at least one value");
  });

  it("names the nearest column", () => {
    expect(problems(() => read("length [mm],width [mm]\n1,2\n", { column: "lenght" }))[0].hint).toBe(
      'Did you mean "length"?',
    );
  });
});

describe("units in names", () => {
  it.each([
    ["length [um]", "length", "um"],
    ["length (µm)", "length", "µm"],
    ["length in mm", "length", "mm"],
    ["clamp force [kN]", "clamp force", "kN"],
    ["run (first)", "run (first)", null],
    ["length", "length", null],
  ])("%s", (head, name, unit) => {
    expect(splitColumnName(head)).toEqual({ name, unit });
  });
});

describe("a column of an Arrow file", () => {
  it("has the unit of its metadata; what is no number is told by its row", () => {
    const field = new Field("length", new Float64(), false, new Map([["unit", "um"]]));
    const schema = new Schema([field]);
    const values = Float64Array.of(10, Number.NaN, 12);
    const child = makeData({ type: new Float64(), length: 3, nullCount: 0, data: values });
    const data = makeData({ type: new Struct([field]), length: 3, nullCount: 0, children: [child] });
    const writer = new RecordBatchFileWriter();
    writer.write(new RecordBatch(schema, data) as never);
    writer.close();
    const file = writer.toUint8Array(true);
    const column = readMeasured(file, "t.arrow", { ...PLAIN, skipBad: true });
    expect(Array.from(column.values)).toEqual([0.01, 0.012]);
    expect(column.bad).toEqual([{ line: 2, why: "NaN is not a number" }]);
    expect(problems(() => readMeasured(file, "t.arrow", PLAIN))[0].line).toBe(2);
  });

  it("is refused when it is broken", () => {
    const broken = Uint8Array.from([...bytes("ARROW1"), 0, 0, 9, 9, 9, 9]);
    expect(problems(() => readMeasured(broken, "t.arrow", PLAIN))[0].expected).toMatch(/Arrow file|column/);
  });
});
