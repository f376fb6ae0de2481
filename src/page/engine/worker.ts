import packageJson from "../../../package.json" with { type: "json" };
import { formatProblem, InputError } from "../../errors.ts";
import type { MeasuredFileReader, MeasuredFileRequest } from "../../scenario/measured-files.ts";
import { resolveSource } from "../../scenario/parse.ts";
import { readScenarioText, type ScenarioSource } from "../../scenario/read.ts";
import { rewriteScenario } from "../../scenario/rewrite.ts";
import type { EvaluateRequest, Reply, Request, Source } from "../protocol.ts";
import { Overtaken } from "./executor.ts";
import { makeFile } from "./files.ts";
import { quickPicture } from "./quick.ts";
import { type WholeRun, wholeRun } from "./whole.ts";

/** What a worker knows of its own scope; the page's types have no word for it. */
interface Scope {
  onmessage: ((event: MessageEvent<Request>) => void) | null;
  postMessage(message: Reply, transfer?: Transferable[]): void;
}
const scope = globalThis as unknown as Scope;

const MAKER = { version: packageJson.version, platform: "browser" };

/** The last question about each variant, while it is unanswered. */
const waiting = new Map<number, EvaluateRequest>();
const lastId = new Map<number, number>();
const wholeRuns = new Map<number, WholeRun>();
let wanted: Extract<Request, { kind: "export" }>[] = [];
let working = false;

scope.onmessage = ({ data }) => {
  try {
    receive(data);
  } catch (error) {
    complain(error, null, 0);
  }
};

function receive(request: Request): void {
  switch (request.kind) {
    case "open": {
      const read = readScenarioText(request.source.text, request.source.fileName);
      // Refused here, a bad file never replaces the one that is open.
      resolveSource(read, [], readerOf(request.source));
      scope.postMessage({ kind: "opened", source: request.source, content: read.content });
      return;
    }
    case "evaluate":
      waiting.set(request.variant, request);
      lastId.set(request.variant, request.id);
      // Files are made of what is shown now, not of what was shown before.
      wholeRuns.delete(request.variant);
      if (!working) void work();
      return;
    case "forget":
      waiting.delete(request.variant);
      lastId.delete(request.variant);
      wholeRuns.delete(request.variant);
      wanted = wanted.filter(({ variant }) => variant !== request.variant);
      return;
    case "export": {
      wanted.push(request);
      handOut();
      return;
    }
    case "save": {
      const text = rewriteScenario(request.source.text, request.source.fileName, request.overrides);
      scope.postMessage({
        kind: "file",
        id: request.id,
        name: request.source.fileName,
        type: "application/yaml",
        bytes: new TextEncoder().encode(text),
      });
    }
  }
}

/** Makes the files that can be made; the others wait for their whole run. */
function handOut(): void {
  for (const request of wanted.splice(0)) {
    const run = wholeRuns.get(request.variant);
    if (run === undefined) wanted.push(request);
    else scope.postMessage({ kind: "file", id: request.id, ...makeFile(request.what, run) });
  }
}

/** Answers questions until none waits: quick looks first, so that the hand on the slider is followed. */
async function work(): Promise<void> {
  working = true;
  for (;;) {
    const next = [...waiting.values()].sort(
      (a, b) => Number(a.precision === "settled") - Number(b.precision === "settled"),
    )[0];
    if (next === undefined) break;
    waiting.delete(next.variant);
    try {
      await answer(next);
    } catch (error) {
      if (!(error instanceof Overtaken)) complain(error, next.variant, next.id);
    }
  }
  working = false;
}

let lastRead: ScenarioSource | null = null;
let lastText = "";

/** A text is taken apart once, however many values are set in it. */
function readOnce({ text, fileName }: Source): ScenarioSource {
  if (lastRead === null || text !== lastText || fileName !== lastRead.fileName) {
    lastRead = readScenarioText(text, fileName);
    lastText = text;
  }
  return lastRead;
}

async function answer(request: EvaluateRequest): Promise<void> {
  const { variant, id, source, overrides } = request;
  const isOvertaken = () => lastId.get(variant) !== id;
  const startMs = performance.now();
  const scenario = resolveSource(readOnce(source), overrides, readerOf(source));
  const samples = Math.min(request.quickSamples, scenario.samples);
  const picture = await quickPicture(scenario, samples, isOvertaken, startMs);
  scope.postMessage({ kind: "picture", variant, id, picture });
  if (request.precision === "moving") return;
  const whole = await wholeRun(scenario, MAKER, isOvertaken, startMs);
  // Asked again at the last moment, this run is the old question's.
  if (isOvertaken()) return;
  wholeRuns.set(variant, whole.run);
  scope.postMessage({ kind: "picture", variant, id, picture: whole.picture });
  handOut();
}

function complain(error: unknown, variant: number | null, id: number): void {
  if (error instanceof InputError) {
    const problems = error.problems.map((problem) => ({ problem, words: formatProblem(problem) }));
    scope.postMessage({ kind: "problems", variant, id, problems });
  } else {
    scope.postMessage({ kind: "fault", message: error instanceof Error ? error.message : String(error) });
  }
}

/** Gives what the page was handed along with the scenario; a file that it was not handed is refused. */
function readerOf(source: Source): MeasuredFileReader {
  const keyOf = (request: MeasuredFileRequest) => JSON.stringify(request, Object.keys(request).sort());
  const refuse = ({ file }: MeasuredFileRequest) =>
    new InputError({
      code: "file",
      path: "",
      expected: "a table that came along with the scenario",
      got: file,
      file: source.fileName,
      hint: "A page cannot read files beside a scenario: open it with seatspread workbench",
    });
  return {
    column(request) {
      for (const held of source.measured) {
        if (held.kind === "column" && keyOf(held.request) === keyOf(request)) return held.values;
      }
      throw refuse(request);
    },
    table(request) {
      for (const held of source.measured) {
        if (held.kind === "table" && keyOf(held.request) === keyOf(request)) return held.values;
      }
      throw refuse(request);
    },
  };
}
