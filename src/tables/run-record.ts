import type { Recorded } from "../studies/resume/recording.ts";
import { refuseRecord, type StudyOfRun } from "../studies/resume/study-of-run.ts";
import { decodeEntry, encodeEntry, JournalEnd, type ReadBytes } from "./journal.ts";

type Collected = Recorded["collected"];
type TaskResult = NonNullable<ReturnType<Recorded["next"]>>["result"];

/** Layout of a record; another one is not read. */
const LAYOUT = "seatspread-record-";
const FORMAT = `${LAYOUT}1`;

/**
 * How far a run has come. Beside the counts it says which part of the journal counts: what was written behind it belongs
 * to tasks that were not finished together, and is done again.
 */
export interface RecordState {
  readonly study: StudyOfRun;
  /** Name of the journal with the results of the tasks. */
  readonly journal: string;
  readonly bytes: number;
  readonly check: number;
  readonly tasks: number;
  readonly collected: Collected;
}

export function encodeState({ collected, ...state }: RecordState): Uint8Array {
  const end = new JournalEnd();
  const first = encodeEntry(end, { name: FORMAT, value: state });
  const second = encodeEntry(end, { name: "counts", value: collected });
  const bytes = new Uint8Array(first.length + second.length);
  bytes.set(first);
  bytes.set(second, first.length);
  return bytes;
}

/** @returns "damaged" for anything but a whole state, "another layout" for that of another version of the program */
export function decodeState(bytes: Uint8Array): RecordState | "damaged" | "another layout" {
  const end = new JournalEnd();
  const read: ReadBytes = (at, count) => bytes.subarray(at, at + count);
  const state = decodeEntry(end, read);
  if (state?.name !== FORMAT) return state?.name.startsWith(LAYOUT) === true ? "another layout" : "damaged";
  const counts = decodeEntry(end, read);
  if (counts?.name !== "counts" || end.bytes !== bytes.length) return "damaged";
  return { ...(state.value as Omit<RecordState, "collected">), collected: counts.value as Collected };
}

/**
 * Opens what an interrupted run has done. All of it is read once before anything is made of it, and read again as it is
 * handed over, so that a record of any length needs the memory of one task.
 *
 * @param file as the user may look for it: stands in front of every problem
 * @returns also where the journal stands, to be written on from
 * @throws InputError for a journal that is not the one that the state speaks of
 */
export function openRecorded(
  state: RecordState,
  read: ReadBytes,
  file: string,
): { readonly recorded: Recorded; readonly end: JournalEnd } {
  const refuse = (got: string): never =>
    refuseRecord(file, "the whole record of an interrupted run", got, "Leave out --resume to start anew");
  const end = new JournalEnd();
  let tasks = 0;
  let units = 0;
  for (; end.bytes < state.bytes; tasks += 1) {
    const entry = decodeEntry(end, read);
    if (entry === null) return refuse(`a damaged one: it can be read up to part ${tasks} of ${state.tasks}`);
    const result = entry.value as TaskResult;
    if (result.kind === "chunk") units += result.count;
  }
  const isWhole = end.bytes === state.bytes && end.check === state.check && tasks === state.tasks;
  if (!isWhole || units !== state.collected.tally.samples) return refuse("parts that do not add up");
  const place = new JournalEnd();
  return {
    end,
    recorded: {
      collected: state.collected,
      next() {
        if (place.bytes === state.bytes) return null;
        const entry = decodeEntry(place, read);
        if (entry === null) return refuse("one that changed while it was read");
        return { key: entry.name, result: entry.value as TaskResult };
      },
      refuse,
    },
  };
}
