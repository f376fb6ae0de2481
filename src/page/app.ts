import type { Override } from "../scenario/overrides.ts";
import { download } from "./download.ts";
import { EngineClient } from "./engine-client.ts";
import { valueAt } from "./model/field.ts";
import { Store, type Work } from "./model/store.ts";
import type { ExportKind, Picture, Reply, Source } from "./protocol.ts";
import { Screen } from "./screen.ts";
import { bindTools } from "./tools.ts";
import { Controls } from "./views/controls.ts";

const NAMES = ["Variant 1", "Variant 2"] as const;

type Apply = (content: unknown, overrides: readonly Override[]) => unknown;

/** A whole run begins when nothing has been changed for so long after the quick look: the hand has come to rest, and the look is painted. */
const REST_MS = 250;

/** What is known of a variant: the newest picture, and the newest of a whole run. */
interface Known {
  picture: Picture | null;
  whole: Picture | null;
  /** Numbers of the last question, of the last one looked at, of the last one run whole, and of the last one that such a run has answered. */
  asked: number;
  looked: number;
  run: number;
  answered: number;
  /** The scenario that is asked about, and the number of the first question about it. */
  scenario: Source | null;
  first: number;
  /** What the last question was about; null where it was a quick one, so that it is asked again. */
  source: Source | null;
  overrides: readonly Override[] | null;
}

/**
 * A whole run is shown where it answers the last question. Looks are shown as they come, so that a hand that does not rest is
 * followed, but none of another scenario or of a variant that is gone.
 */
function isNews({ id, picture }: Extract<Reply, { kind: "picture" }>, { asked, looked, first }: Known): boolean {
  return picture.isWhole ? id === asked : id >= first && id > looked;
}

/** Holds the work, asks the engine and shows its answers. */
export class App {
  readonly #engine: EngineClient;
  readonly #apply: Apply;
  readonly #controls: Controls;
  readonly #screen = new Screen();
  #store: Store | null = null;
  #known: Known[] = [];
  /** Content and number of variants that were last drawn; another scenario or variant is drawn before it is answered. */
  #drawn: { content: unknown; variants: number } = { content: null, variants: 0 };
  #rest = 0;

  constructor(script: string, apply: Apply) {
    this.#apply = apply;
    this.#engine = new EngineClient(script, (reply) => this.#hear(reply));
    this.#controls = new Controls(document.getElementById("controls")!, {
      onTry: (path, value) => {
        this.#store?.try(path, value);
        this.#refresh("moving");
      },
      onSet: (path, value) => {
        this.#store?.set(path, value);
        this.#refresh("settled");
      },
    });
    bindTools({
      undo: () => this.#step((store) => store.undo()),
      redo: () => this.#step((store) => store.redo()),
      reset: () => this.#step((store) => store.reset()),
      split: () =>
        this.#step((store) => {
          if (store.work.variants.length === 1) store.split();
          else store.join();
        }),
      activate: (place) => this.#step((store) => store.activate(place)),
      save: () => void this.#save(),
      make: (what) => void this.#make(what),
      drawn: () => this.#draw(),
    });
  }

  /** Reads a scenario; only one without problems takes the place of the one that is open. */
  open(source: Source): void {
    this.#engine.open(source);
  }

  #step(change: (store: Store) => void): void {
    if (this.#store === null) return;
    change(this.#store);
    this.#refresh("settled");
  }

  #hear(reply: Reply): void {
    switch (reply.kind) {
      case "opened": {
        const work: Work = { source: reply.source, content: reply.content, variants: [[]], active: 0 };
        if (this.#store === null) this.#store = new Store(work);
        else this.#store.replace(work);
        this.#screen.problems([]);
        this.#refresh("settled");
        return;
      }
      case "picture": {
        const known = this.#known[reply.variant];
        if (known === undefined || !isNews(reply, known)) return;
        known.picture = reply.picture;
        if (reply.picture.isWhole) {
          known.whole = reply.picture;
          known.answered = reply.id;
        } else {
          known.looked = reply.id;
          this.#engine.learn(reply.picture.samples, reply.picture.elapsedMs);
          this.#runSoon();
        }
        this.#screen.problems([]);
        this.#controls.mark([]);
        this.#draw();
        this.#screen.answered(reply.id);
        return;
      }
      case "problems":
        if (reply.variant !== null && reply.id < (this.#known[reply.variant]?.asked ?? 0)) return;
        this.#screen.problems(reply.problems.map(({ words }) => words));
        this.#controls.mark(reply.problems.map(({ problem }) => problem.path));
        return;
      case "fault":
        this.#screen.problems([`a fault of the program, please report it: ${reply.message}`]);
    }
  }

  /** Asks for what has changed, so that the engine is at work while the controls are filled. */
  #refresh(precision: "moving" | "settled"): void {
    const store = this.#store;
    if (store === null) return;
    const { source, content, variants, active } = store.work;
    for (let place = this.#known.length - 1; place >= variants.length; place -= 1) this.#engine.forget(place);
    this.#known.length = Math.min(this.#known.length, variants.length);
    for (const [place, overrides] of variants.entries()) {
      const known = this.#known[place] ?? {
        picture: null,
        whole: null,
        asked: 0,
        looked: 0,
        run: 0,
        answered: 0,
        scenario: null,
        first: 0,
        source: null,
        overrides: null,
      };
      this.#known[place] = known;
      const isAsked = known.asked > 0 && known.source === source && known.overrides === overrides;
      if (isAsked || (precision === "moving" && place !== active)) continue;
      known.source = precision === "settled" ? source : null;
      known.overrides = overrides;
      known.asked = this.#engine.look(place, source, overrides, precision);
      if (known.scenario !== source) known.first = known.asked;
      known.scenario = source;
    }
    this.#controls.show(content, this.#changed(content, variants[active]!));
    this.#screen.tools({
      canUndo: store.canUndo,
      canRedo: store.canRedo,
      isChanged: variants[active]!.length > 0,
      names: NAMES.slice(0, variants.length),
      active,
    });
    this.#screen.settled(this.#isSettled());
    if (this.#drawn.content !== content || this.#drawn.variants !== variants.length) this.#draw();
  }

  /** Makes whole runs of what was looked at and not asked anew until then. */
  #runSoon(): void {
    window.clearTimeout(this.#rest);
    this.#rest = window.setTimeout(() => {
      for (const [place, known] of this.#known.entries()) {
        const { source, overrides, asked, looked, run } = known;
        if (source === null || overrides === null || looked !== asked || run === asked) continue;
        known.run = asked;
        this.#engine.run(place, asked, source, overrides);
      }
    }, REST_MS);
  }

  /** Whether what is shown is the answer to what was last asked. */
  #isSettled(): boolean {
    return this.#known.every(({ asked, answered }) => asked > 0 && asked === answered);
  }

  /** Content with changes; where one leads nowhere (the engine will say so) the content as it is. */
  #changed(content: unknown, overrides: readonly Override[]): unknown {
    try {
      return this.#apply(content, overrides);
    } catch {
      return content;
    }
  }

  #draw(): void {
    this.#screen.settled(this.#isSettled());
    const shown = this.#known.flatMap(({ picture }, place) =>
      picture === null ? [] : [{ name: NAMES[place]!, picture }],
    );
    if (shown.length === 0) return;
    if (this.#store !== null) {
      const { content, variants } = this.#store.work;
      this.#drawn = { content, variants: variants.length };
    }
    const latest = this.#known.filter(({ picture }) => picture !== null).map(({ whole }) => whole);
    const heading =
      this.#store === null ? "" : String(valueAt(this.#store.work.content, "title") ?? shown[0]!.picture.title);
    this.#screen.draw(heading, shown, latest);
  }

  async #save(): Promise<void> {
    if (this.#store === null) return;
    const { source, variants, active } = this.#store.work;
    const { name, type, bytes } = await this.#engine.save(source, variants[active]!);
    download(name.replace(/^.*[\\/]/, ""), type, bytes as BlobPart);
  }

  async #make(what: ExportKind): Promise<void> {
    if (this.#store === null) return;
    const { name, type, bytes } = await this.#engine.make(this.#store.work.active, what);
    download(name, type, bytes as BlobPart);
  }
}
