import { CLEARANCE_GROUPS } from "../../catalogue/clearance-groups.ts";
import { listMaterials } from "../../catalogue/materials.ts";
import { RING_TOLERANCE_CLASSES } from "../../catalogue/ring-tolerances.ts";
import { type Content, drawnField, type Field, valueAt } from "./field.ts";
import { methodFields } from "./method-fields.ts";

export interface FieldGroup {
  readonly title: string;
  readonly fields: readonly Field[];
  readonly isOpen: boolean;
}

/** The controls of a scenario's content, in the order in which an engineer decides. */
export function fieldGroups(content: unknown): FieldGroup[] {
  const has = (path: string) => valueAt(content, path) !== undefined;
  const drawn = (path: string, label: string): Field[] => drawnField(content, path, label);
  return [
    { title: "Offset: the dimension chain", isOpen: true, fields: chainFields(content) },
    {
      title: "Preload",
      isOpen: true,
      fields: [arrangementField(content), ...methodFields(content), ...limitFields(has)],
    },
    { title: "Bearings", isOpen: true, fields: bearingFields(content) },
    { title: "Fits and materials", isOpen: false, fields: seatFields(content) },
    {
      title: "Clamp",
      isOpen: false,
      fields: has("clamp.force") ? drawn("clamp.force", "clamp force") : [],
    },
    { title: "Temperatures", isOpen: false, fields: stateFields(content) },
    {
      title: "Run",
      isOpen: false,
      fields: runFields(),
    },
  ].filter(({ fields }) => fields.length > 0);
}

function runFields(): Field[] {
  return [
    { path: "samples", label: "units in a whole run", kind: "text", hint: "200000 when left out" },
    { path: "seed", label: "seed", kind: "text", hint: "any words" },
    { path: "batch.size", label: "units in a batch", kind: "text" },
  ];
}

function arrangementField(content: unknown): Field {
  const given = String(valueAt(content, "arrangement"));
  const as = (words: string, short: string) => (given.toUpperCase() === short ? given : words);
  return {
    path: "arrangement",
    label: "arrangement",
    kind: "choice",
    choices: [
      { value: as("back-to-back", "O"), words: "back-to-back (O)" },
      { value: as("face-to-face", "X"), words: "face-to-face (X)" },
    ],
  };
}

function limitFields(has: (path: string) => boolean): Field[] {
  const window: Field[] = has("window.low")
    ? [
        { path: "window.low", label: "least preload wanted", kind: "text", hint: "such as 50 N or 0.5 % of C" },
        { path: "window.high", label: "most preload wanted", kind: "text", hint: "such as 150 N or 1.5 % of C" },
      ]
    : [{ path: "window", label: "preload wanted", kind: "text", hint: "such as 50..150 N or 0.5..1.5 % of C" }];
  return [...window, { path: "bind.preload", label: "bind limit", kind: "text", hint: "such as 900 N or 10 % of C" }];
}

function chainFields(content: unknown): Field[] {
  const chain = valueAt(content, "chain");
  if (!Array.isArray(chain)) return [];
  return chain.flatMap((member: unknown, index) => {
    const name = String(valueAt(member, "name") ?? index + 1);
    return drawnField(content, `chain.${index}.length`, `${name} (${String(valueAt(member, "side"))})`);
  });
}

const PLACES = [
  ["both", "both bearings"],
  ["a", "bearing a"],
  ["b", "bearing b"],
] as const;

function bearingFields(content: unknown): Field[] {
  return PLACES.flatMap(([place, words]) => {
    const base = `bearings.${place}`;
    const own = valueAt(content, base);
    if (own === undefined && place !== "both") return [];
    const has = (key: string) => valueAt(own, key) !== undefined;
    const fields: Field[] = [];
    if (has("designation")) fields.push({ path: `${base}.designation`, label: `designation, ${words}`, kind: "text" });
    if (has("contactAngle")) fields.push(...drawnField(content, `${base}.contactAngle`, `contact angle, ${words}`));
    if (has("clearance")) fields.push(...drawnField(content, `${base}.clearance`, `radial clearance, ${words}`));
    else if (has("clearanceGroup") || (place === "both" && !has("contactAngle"))) {
      fields.push({
        path: `${base}.clearanceGroup`,
        label: `clearance group, ${words}`,
        kind: "choice",
        choices: CLEARANCE_GROUPS.map((value) => ({ value, words: value })),
        absent: "CN (nothing else is said)",
      });
    }
    if (has("toleranceClass") || place === "both") {
      fields.push({
        path: `${base}.toleranceClass`,
        label: `tolerance class, ${words}`,
        kind: "choice",
        choices: RING_TOLERANCE_CLASSES.map((value) => ({ value, words: value })),
        absent: "Normal (nothing else is said)",
      });
    }
    if (has("standOut")) fields.push(...drawnField(content, `${base}.standOut`, `stand-out, ${words}`));
    return fields;
  });
}

function seatFields(content: unknown): Field[] {
  const materials = listMaterials().map(({ name }) => ({ value: name, words: name.replaceAll("-", " ") }));
  return (["shaft", "housing"] as const).flatMap((side) => {
    const fits = PLACES.filter(([place]) => valueAt(content, `seats.${side}.${place}.fit`) !== undefined).flatMap(
      ([place, words]) => drawnField(content, `seats.${side}.${place}.fit`, `${side} seat, ${words}`),
    );
    const material = valueAt(content, `seats.${side}.material`);
    if (material === undefined || typeof material === "string") {
      fits.push({ path: `seats.${side}.material`, label: `${side} material`, kind: "choice", choices: materials });
    }
    if (side === "housing") {
      fits.push({ path: "seats.housing.outsideDiameter", label: "housing outside diameter", kind: "text" });
    }
    return fits;
  });
}

function stateFields(content: unknown): Field[] {
  const states = valueAt(content, "states");
  if (!Array.isArray(states)) return [];
  return states.flatMap((state: unknown, index) => {
    const name = String(valueAt(state, "label") ?? valueAt(state, "name") ?? index + 1);
    const base = `states.${index}`;
    return Object.entries(state as Content).flatMap(([key, value]) => {
      if (["name", "label", "bench", "share", "viscosity"].includes(key)) return [];
      const words = `${name}: ${key.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`)}`;
      if (key === "network") {
        return valueAt(value, "ambient") === undefined
          ? []
          : drawnField(content, `${base}.network.ambient`, `${name}: surroundings`);
      }
      const other = valueAt(value, "above") ?? valueAt(value, "below");
      if (other !== undefined) {
        const where = valueAt(value, "above") !== undefined ? "above" : "below";
        return drawnField(content, `${base}.${key}.by`, `${words}, ${where} ${String(other)}`);
      }
      return drawnField(content, `${base}.${key}`, words);
    });
  });
}
