import { describe, expect, it } from "vitest";
import { Store, withChange } from "../../../src/page/model/store.ts";

const start = () =>
  new Store({ source: { text: "", fileName: "x.yaml", measured: [] }, content: {}, variants: [[]], active: 0 });

describe("the work and its history", () => {
  it("shows a tried value and forgets it unless it is set", () => {
    const store = start();
    store.try("a", 1);
    expect(store.work.variants[0]).toEqual([{ path: "a", value: 1 }]);
    expect(store.canUndo).toBe(false);
    store.set("a", 2);
    expect(store.work.variants[0]).toEqual([{ path: "a", value: 2 }]);
    store.try("a", 3);
    store.undo();
    expect(store.work.variants[0]).toEqual([]);
    store.redo();
    expect(store.work.variants[0]).toEqual([{ path: "a", value: 2 }]);
  });

  it("goes back and forth to the same states, and a new change ends what lay ahead", () => {
    const store = start();
    store.set("a", 1);
    store.set("b", 2);
    const both = store.work;
    expect(store.undo()).toBe(true);
    expect(store.undo()).toBe(true);
    expect(store.undo()).toBe(false);
    store.redo();
    store.redo();
    expect(store.work).toBe(both);
    store.undo();
    store.set("c", 3);
    expect(store.canRedo).toBe(false);
  });

  it("changes the active variant alone, and resets it in one step", () => {
    const store = start();
    store.set("a", 1);
    store.split();
    store.set("b", 2);
    expect(store.work.variants).toEqual([
      [{ path: "a", value: 1 }],
      [
        { path: "a", value: 1 },
        { path: "b", value: 2 },
      ],
    ]);
    store.activate(0);
    store.reset();
    expect(store.work.variants[0]).toEqual([]);
    expect(store.work.variants[1]).toHaveLength(2);
    store.undo();
    expect(store.work.variants[0]).toEqual([{ path: "a", value: 1 }]);
    store.activate(1);
    store.join();
    expect(store.work.variants).toEqual([
      [
        { path: "a", value: 1 },
        { path: "b", value: 2 },
      ],
    ]);
  });

  it("lets a new group take the place of what was set inside the old one", () => {
    const inner = withChange([], "preload.adjuster.advance", "9 um");
    expect(withChange(inner, "preload", { method: "position" })).toEqual([
      { path: "preload", value: { method: "position" } },
    ]);
    expect(withChange(withChange(inner, "preloads", 1), "preload.adjuster.advance", "8 um")[0]?.value).toBe("8 um");
  });
});
