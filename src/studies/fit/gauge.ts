import { InputError } from "../../errors.ts";
import { type GaugeStudy, gaugeStudy } from "../../stats/gauge-study.ts";

/**
 * A gauge study from a table of one reading a row.
 *
 * @param parts which part each reading is of; @param operators who took it, or null where one person took all
 * @throws InputError unless every operator has read every part equally often, at least twice
 */
export function gaugeStudyOf(
  readings: Float64Array,
  parts: readonly string[] | null,
  operators: readonly string[] | null,
  file: string,
): GaugeStudy {
  if (parts === null) {
    throw new InputError({ code: "missing", path: "part", expected: "a column named part", got: "none", file });
  }
  const names = (cells: readonly string[]) => [...new Set(cells)];
  const partNames = names(parts);
  const people = operators ?? parts.map(() => "");
  const personNames = names(people);
  const cells = partNames.map(() => personNames.map((): number[] => []));
  readings.forEach((reading, index) => {
    cells[partNames.indexOf(parts[index])][personNames.indexOf(people[index])].push(reading);
  });
  const repeats = cells[0][0].length;
  const isEven = cells.every((row) => row.every((cell) => cell.length === repeats));
  if (partNames.length < 2 || repeats < 2 || !isEven) {
    throw new InputError({
      code: "out-of-range",
      path: "part",
      expected: "two or more parts, each read equally often (twice or more) by every operator",
      got: `${partNames.length} parts, ${personNames.length} operators, ${readings.length} readings`,
      file,
    });
  }
  return gaugeStudy(cells);
}
