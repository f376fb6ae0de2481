import { OUTCOMES, type Outcome } from "../../model/outcome.ts";
import type { ModelPlan } from "../../model/plan.ts";
import type { Sight } from "./sight.ts";

/** What may be too rare for plain sampling: an outcome in a counted state, or failing at the bench or in service. */
export type RareEvent =
  | { readonly kind: "outcome"; readonly state: number; readonly outcome: Outcome }
  | { readonly kind: "bench" | "service" };

/** How far one unit is from one edge of an event, mm of offset: below 0 on the side of the event. */
export interface Edge {
  /** The same name, the same edge. */
  readonly name: string;
  readonly of: (sight: Sight, i: number) => number;
}

/**
 * One connected way into an event. A unit is in it exactly where `holds`; the edges, all of them below 0 there, say how near it
 * is and steer the search.
 */
export interface Way {
  readonly edges: readonly Edge[];
  /** Edges that keep it apart from other events; most units are on their right side. */
  readonly besides: readonly Edge[];
  readonly holds: (sight: Sight, i: number) => boolean;
}

const PLACE = Object.fromEntries(OUTCOMES.map((outcome, place) => [outcome, place])) as Record<Outcome, number>;

/** Offsets further from an edge than this, mm, say nothing more; an edge that is nowhere counts as that far. */
const FAR_MM = 1;

/** How far the machined offset is past an edge of the state, the way round that is intended. */
function past(state: number, edge: "onsetMm" | "lowMm" | "highMm" | "bindMm"): Edge {
  return {
    name: `${state} past ${edge}`,
    of: ({ windows, machinedMm }, i) => limited(machinedMm[i] - windows[state][edge][i]),
  };
}

/** The same about the edge that mirrors it, where the pair is loaded the wrong way round. */
function pastMirrored(state: number, edge: "onsetMm" | "bindMm"): Edge {
  return {
    name: `${state} past mirrored ${edge}`,
    of: ({ windows, machinedMm }, i) =>
      limited(machinedMm[i] + windows[state][edge][i] + 2 * windows[state].shiftMm[i]),
  };
}

function short({ name, of }: Edge): Edge {
  return { name: `short of ${name}`, of: (sight, i) => -of(sight, i) };
}

function limited(mm: number): number {
  return Math.min(FAR_MM, Math.max(-FAR_MM, mm));
}

/** The ways into an event, apart, so that each can be looked for on its own. */
export function waysOf(event: RareEvent, plan: ModelPlan, states: number): Way[] {
  const bench = plan.states.findIndex((state) => state.isBench);
  if (event.kind === "outcome") return outcomeWays(event.state, event.outcome);
  if (event.kind === "bench") return badWays(bench);
  const benchGood = [short(past(bench, "lowMm")), past(bench, "highMm")];
  return Array.from({ length: states }, (_, state) => state)
    .filter((state) => state !== bench)
    .flatMap((state) =>
      badWays(state).map(({ edges, holds }) => ({
        edges,
        besides: benchGood,
        holds: (sight: Sight, i: number) => sight.states[bench].good[i] === 1 && holds(sight, i),
      })),
    );
}

function outcomeWays(state: number, outcome: Outcome): Way[] {
  const holds = ({ states }: Sight, i: number) => states[state].outcome[i] === PLACE[outcome];
  const way = (...edges: Edge[]): Way => ({ edges, besides: [], holds });
  switch (outcome) {
    case "reversed":
      return [way(pastMirrored(state, "onsetMm"), short(pastMirrored(state, "bindMm")))];
    case "play":
      return [way(past(state, "onsetMm"), short(pastMirrored(state, "onsetMm")))];
    case "light":
      return [way(past(state, "lowMm"), short(past(state, "onsetMm")))];
    case "target":
      return [way(short(past(state, "lowMm")), past(state, "highMm"))];
    case "heavy":
      return [way(short(past(state, "highMm")), past(state, "bindMm"))];
    case "bind":
      return [
        {
          edges: [short(past(state, "bindMm"))],
          besides: [],
          holds: (sight, i) => holds(sight, i) && sight.states[state].preloadN[i] >= 0,
        },
        {
          edges: [pastMirrored(state, "bindMm")],
          besides: [],
          holds: (sight, i) => holds(sight, i) && sight.states[state].preloadN[i] < 0,
        },
      ];
  }
}

/** Not good in a state: with too little preload, or with too much. A requirement that is missed counts to the first. */
function badWays(state: number): Way[] {
  const isBad = ({ states }: Sight, i: number) => states[state].good[i] === 0;
  const isHeavy = ({ states }: Sight, i: number) => states[state].outcome[i] >= PLACE.heavy;
  return [
    { edges: [past(state, "lowMm")], besides: [], holds: (sight, i) => isBad(sight, i) && !isHeavy(sight, i) },
    { edges: [short(past(state, "highMm"))], besides: [], holds: (sight, i) => isBad(sight, i) && isHeavy(sight, i) },
  ];
}
