import type { Runner } from "../../engine/runner.ts";
import type { Collected, Executor, TaskList, TaskResult } from "../../engine/tasks.ts";
import { giveWay } from "../../engine/turns.ts";
import { InternalError } from "../../errors.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { HelperOrder, HelperReport } from "./helper.ts";

/**
 * The workers that share quick looks with this one. Each keeps to the same places of the list, so that the columns it holds are
 * those that it is asked for again; whoever is done first takes from the others. The results are those of one worker, to the bit.
 */
export class Crew {
  /** Those that have said that they are ready: nobody waits for one that is still starting. */
  readonly #helpers: MessagePort[] = [];
  #look = 0;
  #hear: (helper: MessagePort, report: HelperReport) => void = () => {};

  join(port: MessagePort): void {
    port.onmessage = ({ data }: MessageEvent<HelperReport>) => {
      if (data.kind === "ready") this.#helpers.push(port);
      else if (data.look === this.#look) this.#hear(port, data);
    };
  }

  /**
   * Tells the helpers what is looked at next, so that they prepare it while this worker does.
   *
   * @returns what makes an executor of the look's tasks from this worker's own runner
   */
  lookAt(scenario: ResolvedScenario): (runner: Runner) => Executor {
    this.#look += 1;
    const helpers = this.#helpers.slice();
    for (const helper of helpers) this.#order(helper, { kind: "set-up", look: this.#look, scenario });
    return (runner) => ({
      workers: helpers.length + 1,
      run: (tasks, onResult) => this.#run(runner, helpers, tasks, onResult),
      collect: () => this.#collect(runner, helpers),
      async close() {},
    });
  }

  #run(
    runner: Runner,
    helpers: readonly MessagePort[],
    tasks: TaskList,
    onResult: (place: number, result: TaskResult) => void,
  ): Promise<void> {
    const take = shareOut(tasks.length, helpers.length + 1);
    const give = (helper: MessagePort) => {
      const place = take(helpers.indexOf(helper) + 1);
      if (place !== undefined) this.#order(helper, { kind: "task", look: this.#look, place, task: tasks.at(place)! });
    };
    return new Promise((resolve, reject) => {
      let open = tasks.length;
      const finish = (place: number, result: TaskResult) => {
        onResult(place, result);
        open -= 1;
        if (open === 0) resolve();
      };
      this.#hear = (helper, report) => {
        if (report.kind === "failed") reject(new InternalError(`a helper failed: ${report.message}`));
        if (report.kind !== "result") return;
        give(helper);
        finish(report.place, report.result);
      };
      // Two at a time: this worker is deaf while it is at a task of its own.
      for (let round = 0; round < 2; round += 1) for (const helper of helpers) give(helper);
      const own = async () => {
        for (let place = take(0); place !== undefined; place = take(0)) {
          finish(place, runner.runTask(tasks.at(place)!).result);
          await giveWay();
        }
      };
      own().catch(reject);
    });
  }

  #collect(runner: Runner, helpers: readonly MessagePort[]): Promise<Collected[]> {
    const found = new Map<MessagePort, Collected>();
    return new Promise((resolve, reject) => {
      const finish = () => {
        if (found.size === helpers.length) resolve([own, ...helpers.map((helper) => found.get(helper)!)]);
      };
      this.#hear = (helper, report) => {
        if (report.kind === "failed") reject(new InternalError(`a helper failed: ${report.message}`));
        if (report.kind !== "collected") return;
        found.set(helper, report.collected);
        finish();
      };
      for (const helper of helpers) this.#order(helper, { kind: "collect", look: this.#look });
      const own = runner.collect();
      finish();
    });
  }

  #order(helper: MessagePort, order: HelperOrder): void {
    helper.postMessage(order);
  }
}

/**
 * Shares places out in turn.
 *
 * @returns what gives a hand its next place: its own from the first, then the last one of whoever has most left; undefined where
 *   none is left
 */
function shareOut(places: number, hands: number): (hand: number) => number | undefined {
  const shares = Array.from({ length: hands }, (): number[] => []);
  for (let place = 0; place < places; place += 1) shares[place % hands]!.push(place);
  return (hand) =>
    shares[hand]!.shift() ?? shares.reduce((most, share) => (share.length > most.length ? share : most)).pop();
}
