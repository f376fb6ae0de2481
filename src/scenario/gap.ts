import { resolveZone } from "./chain.ts";
import type { Ledger } from "./ledger.ts";
import { resolveMaterial } from "./materials.ts";
import { readMemberLength } from "./member-length.ts";
import type { GapEntry } from "./schema-requests.ts";
import type { ChainMember, GapChain, Material, Side } from "./types.ts";
import { addVariable, unknownValue } from "./variables.ts";
import { usualRange, valueWords } from "./words.ts";

/** The chain from the seats of the locating bearing to the faces of a gap; members as those of the dimension chain. */
export function resolveGap(
  ledger: Ledger,
  entry: GapEntry | undefined,
  materials: Readonly<Record<Side, Material>>,
  slides: string | null,
): GapChain | null {
  if (entry === undefined) return null;
  const { bearing, members } = entry;
  if (slides?.endsWith(`-${bearing}`)) {
    ledger.problem({
      code: "conflict",
      path: "gap.bearing",
      expected: "the bearing that locates the shaft",
      got: `${bearing}, whose ring slides under the spring`,
    });
  }
  if (members.length === 0) {
    ledger.problem({ code: "missing", path: "gap.members", expected: "at least one member", got: "an empty list" });
  }
  const seen = new Set<string>();
  for (const [index, { name }] of members.entries()) {
    const wrong = name.trim() === "" || name.length > 80 || /[.\p{Cc}]/u.test(name) || /^\d+$/.test(name);
    if (wrong || seen.has(name)) {
      ledger.problem({
        code: wrong ? "wrong-type" : "conflict",
        path: `gap.members.${index}.name`,
        expected: wrong ? "a name in words of at most 80 characters, without a full stop" : "a name of its own",
        got: name,
      });
    }
    seen.add(name);
  }
  const chain = members.map((member) => resolveMember(ledger, member, materials));
  const middleMm = chain.reduce((sum, { side, factor, length }) => {
    const { low, high } = usualRange(ledger.distribution(length));
    return sum + (side === "housing" ? 1 : -1) * factor * 0.5 * (low + high);
  }, 0);
  if (middleMm <= 0) {
    ledger.problem({
      code: "impossible-geometry",
      path: "gap.members",
      expected: "housing members longer than shaft members, so that there is a gap",
      got: valueWords(middleMm, "mm"),
      hint: "Give the member on the other side subtract: true, or swap the sides",
    });
  }
  ledger.note({
    path: "gap.shaftMovesInboard",
    label: `gap seen from bearing ${bearing}`,
    value: `${valueWords(Number(middleMm.toFixed(6)), "mm")} as drawn; ${entry.shaftMovesInboard} when the shaft moves inboard`,
    origin: "given",
    source: "",
  });
  return { locating: bearing, opensSign: entry.shaftMovesInboard === "opens" ? 1 : -1, members: chain };
}

function resolveMember(
  ledger: Ledger,
  member: GapEntry["members"][number],
  materials: Readonly<Record<Side, Material>>,
): ChainMember {
  const { name, side } = member;
  const path = `gap.members.${name}`;
  const value = ledger.attempt(() => readMemberLength(member.length, `${path}.length`), unknownValue());
  const length = addVariable(ledger, {
    name: `gap.${name}`,
    label: name,
    group: "chain dimensions",
    groupLabel: `the ${name}`,
    unit: "mm",
    value,
    origin: "given",
    source: value.how,
  });
  const material =
    member.material === undefined
      ? materials[side]
      : resolveMaterial(ledger, member.material, {
          path: `${path}.material`,
          label: `material of the ${name}`,
          fallback: "",
          why: "",
        });
  return {
    name,
    side,
    factor: member.subtract === true ? -1 : 1,
    length,
    material,
    zone: resolveZone(ledger, member, path),
    areaMm2: null,
    inClampPath: false,
    carriesPreload: false,
  };
}
