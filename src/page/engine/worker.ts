import { readScenarioText } from "../../scenario/read.ts";
import { rewriteScenario } from "../../scenario/rewrite.ts";
import type { LookRequest, Request } from "../protocol.ts";
import { Crew } from "./crew.ts";
import { help } from "./helper.ts";
import { quickPicture } from "./quick.ts";
import { quickRunner } from "./quick-runner.ts";
import { complain, scope } from "./scope.ts";
import { resolved } from "./source.ts";
import { WholeRuns } from "./whole-runs.ts";

const crew = new Crew();
const wholeRuns = new WholeRuns();

/** Quick looks are never broken off: one after the other, each as it was asked for. */
let looking: Promise<void> = Promise.resolve();

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
      const { source } = request;
      const { content } = readScenarioText(source.text, source.fileName);
      // Refused here, a bad file never replaces the one that is open.
      resolved(source, []);
      scope.postMessage({ kind: "opened", source, content });
      return;
    }
    case "look":
      looking = looking.then(() => look(request));
      return;
    case "run":
      wholeRuns.ask(request);
      return;
    case "outdated":
      wholeRuns.outdated(request.variant);
      return;
    case "forget":
      wholeRuns.forget(request.variant);
      return;
    case "export":
      wholeRuns.make(request);
      return;
    case "save": {
      const text = rewriteScenario(request.source.text, request.source.fileName, request.overrides);
      scope.postMessage({
        kind: "file",
        id: request.id,
        name: request.source.fileName,
        type: "application/yaml",
        bytes: new TextEncoder().encode(text),
      });
      return;
    }
    case "helper":
      crew.join(request.port);
      return;
    case "help":
      help(request.port, (scenario) => quickRunner(scenario).runner);
  }
}

async function look({ variant, id, source, overrides, samples }: LookRequest): Promise<void> {
  try {
    const startMs = performance.now();
    const scenario = resolved(source, overrides);
    const picture = await quickPicture(scenario, Math.min(samples, scenario.samples), crew, startMs);
    scope.postMessage({ kind: "picture", variant, id, picture });
  } catch (error) {
    complain(error, variant, id);
  }
}
