import type { Override } from "../scenario/overrides.ts";
import type { ExportKind, LookRequest, Reply, Request, Source } from "./protocol.ts";

/** Units of a quick look at most; a machine too slow for them gets fewer while a slider moves, and the page says how many. */
const QUICK_SAMPLES = 100_000;
const LEAST_QUICK_SAMPLES = 8192;

/** What the engine may take of the tenth of a second in which a change is to be seen. */
const AIM_MS = 75;

/** Threads that share a quick look at most: it has seven chunks. */
const MOST_THREADS = 4;

/** The engine in its workers, as the page talks to it: one for quick looks with its helpers, and one for whole runs. */
export class EngineClient {
  readonly #looker: Worker;
  readonly #runner: Worker;
  #id = 0;
  #movingSamples = QUICK_SAMPLES;
  /** Variants that are looked at, each with the newest question that waits for the end of it. */
  readonly #looking = new Map<number, LookRequest | null>();
  readonly #files = new Map<number, (file: Extract<Reply, { kind: "file" }>) => void>();

  /** @param script the bundled engine; it travels inside the page, so that nothing has to be fetched */
  constructor(script: string, onReply: (reply: Reply) => void) {
    const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
    const start = (hear: (reply: Reply) => void = onReply) => {
      const worker = new Worker(url);
      worker.onmessage = ({ data }: MessageEvent<Reply>) => {
        if (data.kind === "file") this.#files.get(data.id)?.(data);
        else hear(data);
      };
      worker.onerror = (event) =>
        onReply({ kind: "fault", variant: null, message: event.message || "the engine did not start" });
      return worker;
    };
    this.#looker = start((reply) => {
      if (reply.kind !== "file" && reply.kind !== "opened" && reply.variant !== null) this.#next(reply.variant);
      onReply(reply);
    });
    this.#runner = start();
    for (let thread = 1; thread < Math.min(MOST_THREADS, navigator.hardwareConcurrency); thread += 1) {
      const { port1, port2 } = new MessageChannel();
      this.#looker.postMessage({ kind: "helper", port: port1 } satisfies Request, [port1]);
      start().postMessage({ kind: "help", port: port2 } satisfies Request, [port2]);
    }
  }

  open(source: Source): void {
    this.#post(this.#looker, { kind: "open", source });
  }

  /**
   * Asks for a quick look. One that is under way is answered first, so that a slider that never rests is followed all the same;
   * of the questions that come up meanwhile the newest is kept.
   *
   * @returns the number of the question; an answer with a lower one is late
   */
  look(variant: number, source: Source, overrides: readonly Override[], precision: "moving" | "settled"): number {
    this.#id += 1;
    const samples = precision === "moving" ? this.#movingSamples : QUICK_SAMPLES;
    const request: LookRequest = { kind: "look", id: this.#id, variant, source, overrides, samples };
    this.#post(this.#runner, { kind: "outdated", variant });
    if (this.#looking.has(variant)) this.#looking.set(variant, request);
    else this.#start(request);
    return this.#id;
  }

  /** Asks for the whole run of a question that was looked at. */
  run(variant: number, id: number, source: Source, overrides: readonly Override[]): void {
    this.#post(this.#runner, { kind: "run", id, variant, source, overrides });
  }

  /** Learns how many units this machine does in time. */
  learn(samples: number, elapsedMs: number): void {
    const possible = (samples * AIM_MS) / Math.max(elapsedMs, 1);
    const wanted = Math.max(LEAST_QUICK_SAMPLES, Math.min(QUICK_SAMPLES, possible));
    this.#movingSamples = Math.round((0.5 * this.#movingSamples + 0.5 * wanted) / 4096) * 4096 || LEAST_QUICK_SAMPLES;
    if (this.#movingSamples > 0.95 * QUICK_SAMPLES) this.#movingSamples = QUICK_SAMPLES;
  }

  forget(variant: number): void {
    if (this.#looking.has(variant)) this.#looking.set(variant, null);
    this.#post(this.#runner, { kind: "forget", variant });
  }

  make(variant: number, what: ExportKind): Promise<Extract<Reply, { kind: "file" }>> {
    return this.#ask(this.#runner, (id) => ({ kind: "export", id, variant, what }));
  }

  save(source: Source, overrides: readonly Override[]): Promise<Extract<Reply, { kind: "file" }>> {
    return this.#ask(this.#looker, (id) => ({ kind: "save", id, source, overrides }));
  }

  /** A look is answered: the question that waits behind it is put. */
  #next(variant: number): void {
    const waiting = this.#looking.get(variant) ?? null;
    this.#looking.delete(variant);
    if (waiting !== null) this.#start(waiting);
  }

  #start(request: LookRequest): void {
    this.#looking.set(request.variant, null);
    this.#post(this.#looker, request);
  }

  #ask(worker: Worker, request: (id: number) => Request): Promise<Extract<Reply, { kind: "file" }>> {
    this.#id += 1;
    const id = this.#id;
    return new Promise((resolve) => {
      this.#files.set(id, (file) => {
        this.#files.delete(id);
        resolve(file);
      });
      this.#post(worker, request(id));
    });
  }

  #post(worker: Worker, request: Request): void {
    worker.postMessage(request);
  }
}
