import packageJson from "../../../package.json" with { type: "json" };
import type { Request, RunRequest } from "../protocol.ts";
import { Overtaken } from "./executor.ts";
import { makeFile } from "./files.ts";
import { complain, scope } from "./scope.ts";
import { resolved } from "./source.ts";
import { type WholeRun, wholeRun } from "./whole.ts";

type ExportRequest = Extract<Request, { kind: "export" }>;

const MAKER = { version: packageJson.version, platform: "browser" };

/** Makes whole runs, one after the other, and files of them. */
export class WholeRuns {
  /** The last question about each variant, while nobody is at it. */
  readonly #waiting = new Map<number, RunRequest>();
  readonly #lastId = new Map<number, number>();
  readonly #runs = new Map<number, WholeRun>();
  #wanted: ExportRequest[] = [];
  #working = false;

  ask(request: RunRequest): void {
    this.outdated(request.variant);
    this.#waiting.set(request.variant, request);
    this.#lastId.set(request.variant, request.id);
    if (!this.#working) void this.#work();
  }

  /** Files are made of what is shown now, not of what was shown before. */
  outdated(variant: number): void {
    this.#waiting.delete(variant);
    this.#lastId.delete(variant);
    this.#runs.delete(variant);
  }

  forget(variant: number): void {
    this.outdated(variant);
    this.#wanted = this.#wanted.filter((request) => request.variant !== variant);
  }

  /** Makes a file as soon as there is a run to make it of. */
  make(request: ExportRequest): void {
    this.#wanted.push(request);
    this.#handOut();
  }

  #handOut(): void {
    for (const request of this.#wanted.splice(0)) {
      const run = this.#runs.get(request.variant);
      if (run === undefined) this.#wanted.push(request);
      else scope.postMessage({ kind: "file", id: request.id, ...makeFile(request.what, run) });
    }
  }

  async #work(): Promise<void> {
    this.#working = true;
    for (const request of this.#waiting.values()) {
      this.#waiting.delete(request.variant);
      try {
        await this.#answer(request);
      } catch (error) {
        if (!(error instanceof Overtaken)) complain(error, request.variant, request.id);
      }
    }
    this.#working = false;
  }

  async #answer({ variant, id, source, overrides }: RunRequest): Promise<void> {
    const isOvertaken = () => this.#lastId.get(variant) !== id;
    const startMs = performance.now();
    const { run, picture } = await wholeRun(resolved(source, overrides), MAKER, isOvertaken, startMs);
    // Asked again at the last moment, this run is the old question's.
    if (isOvertaken()) return;
    this.#runs.set(variant, run);
    scope.postMessage({ kind: "picture", variant, id, picture });
    this.#handOut();
  }
}
