import { createHash } from "node:crypto";
import { describe, expect, test } from "vitest";
import { createLocalExecutor } from "../../../src/engine/local.ts";
import type { Executor } from "../../../src/engine/tasks.ts";
import { InputError } from "../../../src/errors.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import type { SampleTable } from "../../../src/studies/result.ts";
import { type Recorded, type Recorder, recordingExecutor } from "../../../src/studies/resume/recording.ts";
import { studyOfRun } from "../../../src/studies/resume/study-of-run.ts";
import { runYield, type YieldSetup, yieldSetup } from "../../../src/studies/yield.ts";
import { encodeEntry, JournalEnd } from "../../../src/tables/journal.ts";
import { decodeState, encodeState, openRecorded } from "../../../src/tables/run-record.ts";
import { compiledKernel } from "../../support/kernel.ts";
import { dice } from "../../support/mutate.ts";
import { shipped } from "../../support/shipped.ts";
import { TEST_MAKER } from "../../support/variable.ts";

/** A record in memory as it was each time that it was kept. */
interface Kept {
  readonly state: Uint8Array;
  readonly journal: Uint8Array;
}

const OPTIONS = {
  maker: TEST_MAKER,
  target: null,
  keepRows: 1000,
  rare: false,
  isOver: () => false,
  onProgress: () => {},
};

/** What a study finds as text: figures to the last bit, and the tables by a hash of their bytes. */
async function find(scenario: ResolvedScenario, executor: (setup: YieldSetup) => Executor): Promise<string> {
  const setup = yieldSetup(scenario, compiledKernel());
  const hash = createHash("sha256");
  const add = (table: SampleTable | null) => {
    for (const { values } of table?.columns ?? []) {
      hash.update(new Uint8Array(values.buffer, values.byteOffset, values.byteLength));
    }
  };
  const { finding, samples, extended } = await runYield(setup, executor(setup), { ...OPTIONS, onRows: add });
  add(samples);
  add(extended);
  return `${JSON.stringify(finding)} ${hash.digest("hex")}`;
}

/** Runs a study, from a record where one is given, and keeps what a kill between any two legs would leave. */
async function run(scenario: ResolvedScenario, from: Kept | null) {
  const opened = from === null ? null : open(from);
  const end = opened?.end ?? new JournalEnd();
  let journal = Buffer.from(from?.journal ?? []);
  let waiting: Uint8Array[] = [];
  const kept: Kept[] = [];
  let tasks = opened?.tasks ?? 0;
  let nowMs = 0;
  const recorder = (setup: YieldSetup): Recorder => ({
    everyMs: 1000,
    // Every look at it, more time has passed than there may be between two states.
    nowMs: () => {
      nowMs += 1200;
      return nowMs;
    },
    append(name, value) {
      waiting.push(encodeEntry(end, { name, value }));
      tasks += 1;
    },
    keep(collected) {
      const { bytes, check } = end;
      const study = studyOfRun(setup, OPTIONS);
      journal = Buffer.concat([journal, ...waiting]);
      waiting = [];
      kept.push({ state: encodeState({ study, journal: "tasks-1", bytes, check, tasks, collected }), journal });
    },
  });
  const found = await find(scenario, (setup) =>
    recordingExecutor(createLocalExecutor(setup), opened?.recorded ?? null, recorder(setup)),
  );
  return { found, kept };
}

function open({ state, journal }: Kept): { recorded: Recorded; end: JournalEnd; tasks: number } {
  const decoded = decodeState(state);
  if (typeof decoded === "string")
    throw new InputError({ code: "file", path: "", expected: "a state", got: "a damaged one" });
  const read = (at: number, count: number) => journal.subarray(at, at + count);
  return { ...openRecorded(decoded, read, "record"), tasks: decoded.tasks };
}

/** One leg of chunks and one more. */
const SAMPLES = 140_000;

describe("a run that goes on from what was kept finds what a run in one go finds, to the bit", () => {
  test.each([
    ["with curves and windows", shipped("laminating-roller.yaml", { samples: SAMPLES })],
    [
      "where batches share a spread",
      shipped("oven-conveyor-wheel.yaml", {
        samples: SAMPLES,
        "chain.wheel shoulder.length": { limits: "20.000 ±0.010", batchShare: 0.3 },
        "batch.size": 60,
      }),
    ],
    ["with stiffness and life", shipped("grinding-spindle.yaml", { samples: SAMPLES, "extended.samples": 5000 })],
  ])(
    "%s",
    async (_, scenario) => {
      const single = await find(scenario, createLocalExecutor);
      const recorded = await run(scenario, null);
      expect(recorded.found).toBe(single);
      const last = recorded.kept.length - 1;
      expect(last).toBeGreaterThan(2);
      // After the first leg of the chunks, and after the last of what follows on them.
      for (const place of [0, last]) {
        const again = await run(scenario, recorded.kept[place]);
        expect(again.found).toBe(single);
        if (place === last) continue;
        // What it keeps in turn is what the first one kept.
        for (const part of ["journal", "state"] as const) {
          expect(Buffer.from(again.kept[again.kept.length - 1][part]).equals(recorded.kept[last][part])).toBe(true);
        }
      }
    },
    60_000,
  );
});

test("a damaged record is refused, wherever a bit was turned, or bytes were cut off or left out", async () => {
  const { kept } = await run(shipped("laminating-roller.yaml", { samples: 500 }), null);
  const whole = kept[kept.length - 1];
  expect(open(whole).tasks).toBeGreaterThan(10);
  const roll = dice(3);
  const turned = (below: number) => (bytes: Buffer) => {
    bytes[roll.below(Math.min(below, bytes.length))] ^= 1 << roll.below(8);
    return bytes;
  };
  const damages: ((bytes: Buffer) => Buffer)[] = [
    turned(Number.POSITIVE_INFINITY),
    // The head of the first entry decides what is read as what.
    turned(16),
    (bytes) => bytes.subarray(0, roll.below(bytes.length)),
    (bytes) => {
      const at = 8 * roll.below(bytes.length / 8 - 16);
      return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + 8 * (1 + roll.below(8)))]);
    },
  ];
  for (const part of ["state", "journal"] as const) {
    for (let time = 0; time < 60; time += 1) {
      const bytes = roll.pick(damages)(Buffer.from(whole[part]));
      if (bytes.equals(whole[part])) continue;
      expect(() => open({ ...whole, [part]: bytes })).toThrow(InputError);
    }
  }
}, 60_000);
