import type { Override } from "../scenario/overrides.ts";
import type { ExportKind, Reply, Request, Source } from "./protocol.ts";

/** Units of a quick look at most; a machine too slow for them in a tenth of a second gets fewer, and the page says how many. */
const QUICK_SAMPLES = 100_000;
const LEAST_QUICK_SAMPLES = 8192;
const AIM_MS = 100;

/** The engine in its worker, as the page talks to it. */
export class EngineClient {
  readonly #worker: Worker;
  #id = 0;
  #movingSamples = QUICK_SAMPLES;
  readonly #files = new Map<number, (file: Extract<Reply, { kind: "file" }>) => void>();

  /** @param script the bundled engine; it travels inside the page, so that nothing has to be fetched */
  constructor(script: string, onReply: (reply: Reply) => void) {
    const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
    this.#worker = new Worker(url);
    this.#worker.onmessage = ({ data }: MessageEvent<Reply>) => {
      if (data.kind === "file") this.#files.get(data.id)?.(data);
      else onReply(data);
    };
    this.#worker.onerror = (event) => onReply({ kind: "fault", message: event.message || "the engine did not start" });
  }

  open(source: Source): void {
    this.#post({ kind: "open", source });
  }

  /** @returns the number of the question; an answer with a lower one is late */
  evaluate(variant: number, source: Source, overrides: readonly Override[], precision: "moving" | "settled"): number {
    this.#id += 1;
    const quickSamples = precision === "moving" ? this.#movingSamples : QUICK_SAMPLES;
    this.#post({ kind: "evaluate", id: this.#id, variant, source, overrides, precision, quickSamples });
    return this.#id;
  }

  /** Learns how many units this machine does in time. */
  learn(samples: number, elapsedMs: number): void {
    const possible = (samples * AIM_MS) / Math.max(elapsedMs, 1);
    const wanted = Math.max(LEAST_QUICK_SAMPLES, Math.min(QUICK_SAMPLES, possible));
    this.#movingSamples = Math.round((0.5 * this.#movingSamples + 0.5 * wanted) / 4096) * 4096 || LEAST_QUICK_SAMPLES;
    if (this.#movingSamples > 0.95 * QUICK_SAMPLES) this.#movingSamples = QUICK_SAMPLES;
  }

  forget(variant: number): void {
    this.#post({ kind: "forget", variant });
  }

  make(variant: number, what: ExportKind): Promise<Extract<Reply, { kind: "file" }>> {
    return this.#ask((id) => ({ kind: "export", id, variant, what }));
  }

  save(source: Source, overrides: readonly Override[]): Promise<Extract<Reply, { kind: "file" }>> {
    return this.#ask((id) => ({ kind: "save", id, source, overrides }));
  }

  #ask(request: (id: number) => Request): Promise<Extract<Reply, { kind: "file" }>> {
    this.#id += 1;
    const id = this.#id;
    return new Promise((resolve) => {
      this.#files.set(id, (file) => {
        this.#files.delete(id);
        resolve(file);
      });
      this.#post(request(id));
    });
  }

  #post(request: Request): void {
    this.#worker.postMessage(request);
  }
}
