import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { stringify } from "yaml";
import { measuredFileReader } from "../../src/cli/measured.ts";
import { judge } from "../support/judge.ts";
import { dice, mutant } from "../support/mutate.ts";
import { changed } from "../support/scenario.ts";
import { SHIPPED } from "../support/shipped.ts";

/** Damaged scenarios; `SEATSPREAD_TEST_MUTANTS=10000` looks at more, `SEATSPREAD_TEST_FIRST` at others. */
const MUTANTS = Number(process.env.SEATSPREAD_TEST_MUTANTS ?? 120);
const FIRST = Number(process.env.SEATSPREAD_TEST_FIRST ?? 1);

const SCENARIOS = new URL("../../scenarios/", import.meta.url);
const texts = SHIPPED.map((file) => readFileSync(new URL(file, SCENARIOS), "utf8"));
const reader = measuredFileReader(fileURLToPath(new URL(SHIPPED[0], SCENARIOS)));

test("a damaged scenario is refused with its place or runs to a whole result: no other error, no hang, no number that is none", async () => {
  const faults: string[] = [];
  const seen = { refused: 0, ran: 0, fault: 0 };
  for (let seed = FIRST; seed < FIRST + MUTANTS; seed += 1) {
    const { text, steps } = mutant(texts, dice(seed));
    const judgement = await judge(text, { reader, integrates: seed % 8 === 0, looksForRare: seed % 4 === 0 });
    seen[judgement.kind] += 1;
    if (judgement.kind === "fault") faults.push(`seed ${seed} (${steps.join("; ")}): ${judgement.why}`);
  }
  expect(faults).toEqual([]);
  // A mutation that is always refused, or never, would look at one half only.
  expect(seen.refused).toBeGreaterThan(MUTANTS / 3);
  expect(seen.ran).toBeGreaterThan(MUTANTS / 10);
}, 7_200_000);

/** What was found so, each mended. */
test.each<[string, Record<string, unknown>, RegExp]>([
  [
    "a temperature that overflows",
    { states: [{ name: "bench", housing: "2e201 degC" }] },
    /housing: expected a temperature of at most 2000 degC/,
  ],
])("%s is refused", async (_, changes, message) => {
  const judgement = await judge(stringify(changed(changes)), { reader, integrates: true, looksForRare: true });
  expect(judgement).toMatchObject({ kind: "refused", message: expect.stringMatching(message) });
});
