import {
  closeSync,
  existsSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  renameSync,
  writeFileSync,
} from "node:fs";
import { join, resolve } from "node:path";
import type { Collected, TaskResult } from "../engine/tasks.ts";
import type { Recorded, Recorder } from "../studies/resume/recording.ts";
import { differenceOf, refuseRecord, type StudyOfRun } from "../studies/resume/study-of-run.ts";
import { encodeEntry, JournalEnd } from "../tables/journal.ts";
import { decodeState, encodeState, openRecorded, type RecordState } from "../tables/run-record.ts";
import { errorCode, makeFolder, onDisk, removeQuietly, unmakeFolders, writeAll } from "./disk.ts";
import { claim, isClaimed, release } from "./record-owner.ts";

/** Files of a record beside its journals. */
const STATE = "state";
const OWNER = "owner";

/** Results that wait in memory before they are written, bytes. */
const MOST_WAITING = 8_000_000;

export interface RecordOptions {
  /** Go on with what an interrupted run has done. */
  readonly resume: boolean;
  readonly everyMs: number;
}

/** A record as a run finds it. */
export interface FoundRecord {
  /** Where to record; null where another run is recorded. */
  readonly record: RunRecord | null;
  /** What is gone on from; null for a run from the start. */
  readonly recorded: Recorded | null;
  /** Units that are done already. */
  readonly units: number;
  /** What the user has to know; null: nothing. */
  readonly note: string | null;
}

/**
 * Looks for the record of an interrupted run and opens one for this run.
 *
 * @param root folder of all results
 * @throws InputError where `resume` finds the record of another study, a damaged one, or one that is being written
 */
export function openRecord(root: string, study: StudyOfRun, options: RecordOptions): FoundRecord {
  return onDisk("--out", root, () => findRecord(root, study, options));
}

function findRecord(root: string, study: StudyOfRun, { resume, everyMs }: RecordOptions): FoundRecord {
  const shown = join(root, `.${study.scenario}.partial`);
  const folder = resolve(shown);
  const anew = (note: string | null, isForeign = false): FoundRecord => {
    return { record: new RunRecord(folder, shown, study, everyMs, isForeign), recorded: null, units: 0, note };
  };
  const refuse = (got: string, hint: string) => refuseRecord(shown, "the record of an interrupted run", got, hint);
  if (isClaimed(join(folder, OWNER))) {
    if (resume)
      return refuse("one that another run is writing", "Wait for that run, or name another folder with --out");
    return {
      record: null,
      recorded: null,
      units: 0,
      note: `${shown}: another run is recorded there, so this one is not`,
    };
  }
  const state = readState(folder);
  if (state === null) return anew(null);
  const difference = typeof state === "string" ? null : differenceOf(state.study, study);
  if (!resume) return anew(leftoverNote(state, difference !== null, shown, everyMs), difference !== null);
  if (state === "another layout") {
    return refuse(
      "one of another version of the program",
      "Go on with that version, or leave out --resume to start anew",
    );
  }
  if (state === "damaged") return refuse("a damaged one", "Leave out --resume to start anew");
  if (difference !== null) {
    const hint = "Go on with that study as it was, or leave out --resume to start anew";
    return refuseRecord(shown, difference.expected, difference.got, hint);
  }
  const path = join(folder, state.journal);
  if (!existsSync(path)) return refuse("one without its journal", "Leave out --resume to start anew");
  const file = openSync(path, "a+");
  const read = (at: number, count: number) => {
    const bytes = new Uint8Array(Math.max(0, Math.min(count, state.bytes - at)));
    return bytes.subarray(0, readSync(file, bytes, 0, bytes.length, at));
  };
  const { recorded, end } = openRecorded(state, read, shown);
  // What was written behind the last state belongs to tasks that are done again.
  ftruncateSync(file, state.bytes);
  claim(join(folder, OWNER));
  const record = new RunRecord(folder, shown, study, everyMs, false, { file, state, end });
  return { record, recorded, units: state.collected.tally.samples, note: null };
}

function readState(folder: string): RecordState | "damaged" | "another layout" | null {
  const path = join(folder, STATE);
  if (!existsSync(path)) return null;
  try {
    return decodeState(readFileSync(path));
  } catch {
    return "damaged";
  }
}

function leftoverNote(
  state: NonNullable<ReturnType<typeof readState>>,
  isForeign: boolean,
  shown: string,
  everyMs: number,
): string {
  const place = `starts anew, and its record takes the place of that one after ${everyMs / 1000} s`;
  if (state === "damaged") return `${shown}: an interrupted run left a damaged record; this one ${place}`;
  if (state === "another layout") {
    return `${shown}: an interrupted run of another version of the program left a record; this one ${place}`;
  }
  const units = `${state.collected.tally.samples} of ${state.study.samples} units`;
  if (isForeign) return `${shown}: an interrupted run of another study had done ${units}; this one ${place}`;
  return `${shown}: an interrupted run had done ${units}, and --resume goes on from there; this one ${place}`;
}

/**
 * What a run has done so far, in a folder beside its result: a journal of the tasks' results, and a state that says how
 * much of it counts, swapped in as a whole. It comes into being when the run has lasted a while, goes when the run is
 * finished, and stays when the run is cut short.
 */
export class RunRecord implements Recorder {
  readonly everyMs: number;
  readonly shown: string;
  readonly #folder: string;
  readonly #study: StudyOfRun;
  readonly #liesOnForeign: boolean;
  readonly #end: JournalEnd;
  #journal: string | null = null;
  #file = -1;
  #tasks = 0;
  #isKept = false;
  #trouble: string | null = null;
  #waiting: Uint8Array[] = [];
  #waitingBytes = 0;

  /**
   * @param liesOnForeign the record of another study lies there: it stays unless this run gets to keep one of its own
   * @param from where to go on
   */
  constructor(
    folder: string,
    shown: string,
    study: StudyOfRun,
    everyMs: number,
    liesOnForeign: boolean,
    from: { file: number; state: RecordState; end: JournalEnd } | null = null,
  ) {
    this.#folder = folder;
    this.shown = shown;
    this.#study = study;
    this.everyMs = everyMs;
    this.#liesOnForeign = liesOnForeign;
    this.#end = from?.end ?? new JournalEnd();
    if (from === null) return;
    this.#file = from.file;
    this.#journal = from.state.journal;
    this.#tasks = from.state.tasks;
    this.#isKept = true;
  }

  /** Whether a run that is cut short now can be gone on with. */
  get isKept(): boolean {
    return this.#isKept;
  }

  /** Why what is done could not be recorded any more; null: it could. */
  get trouble(): string | null {
    return this.#trouble;
  }

  nowMs(): number {
    return performance.now();
  }

  append(key: string, result: TaskResult): void {
    if (this.#trouble !== null) return;
    const bytes = encodeEntry(this.#end, { name: key, value: result });
    this.#tasks += 1;
    this.#waiting.push(bytes);
    this.#waitingBytes += bytes.length;
    if (this.#waitingBytes > MOST_WAITING) this.#attempt(() => this.#write());
  }

  keep(collected: Collected): void {
    this.#attempt(() => {
      this.#write();
      fsyncSync(this.#file);
      const { bytes, check } = this.#end;
      const journal = this.#journal!;
      const state = encodeState({ study: this.#study, journal, bytes, check, tasks: this.#tasks, collected });
      const path = join(this.#folder, STATE);
      writeFileSync(`${path}.new`, state, { flush: true });
      renameSync(`${path}.new`, path);
      if (!this.#isKept) this.#removeJournalsBut(journal);
      this.#isKept = true;
    });
  }

  /** The run is finished: there is nothing to go on with. */
  remove(): void {
    this.close();
    if (this.#isKept || !this.#liesOnForeign) removeQuietly(this.#folder);
  }

  /** Leaves what was kept to a run that goes on with it. Safe to call at any time. */
  close(): void {
    if (this.#file < 0) return;
    closeSync(this.#file);
    this.#file = -1;
    this.#waiting = [];
    if (!this.#isKept) removeQuietly(join(this.#folder, this.#journal!));
    release(join(this.#folder, OWNER));
    unmakeFolders([this.#folder]);
  }

  /** Writes what waits, into a journal of its own: an earlier record stays until this one has its first state. */
  #write(): void {
    if (this.#journal === null) {
      makeFolder(this.#folder);
      claim(join(this.#folder, OWNER));
      const taken = readdirSync(this.#folder);
      let number = 1;
      while (taken.includes(`tasks-${number}`)) number += 1;
      this.#journal = `tasks-${number}`;
      this.#file = openSync(join(this.#folder, this.#journal), "wx");
    }
    for (const bytes of this.#waiting) writeAll(this.#file, bytes);
    this.#waiting = [];
    this.#waitingBytes = 0;
  }

  #removeJournalsBut(own: string): void {
    for (const name of readdirSync(this.#folder)) {
      if (name.startsWith("tasks-") && name !== own) removeQuietly(join(this.#folder, name));
    }
  }

  /** Where nothing more can be recorded the run goes on all the same, and what was kept stays good. */
  #attempt(action: () => void): void {
    if (this.#trouble !== null) return;
    try {
      action();
    } catch (error) {
      this.#trouble = errorCode(error);
      this.#waiting = [];
    }
  }
}
