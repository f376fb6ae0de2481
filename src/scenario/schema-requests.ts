import * as z from "zod";
import { drawn, drawnSchema, quantity, quantitySchema } from "./schema-drawn.ts";
import { EXTENDED_REQUIREMENTS, REQUIREMENT_QUANTITIES } from "./types.ts";

const statesSchema = z
  .union([z.literal("all"), z.array(z.string())])
  .optional()
  .describe("States by name, or all, which is meant when left out");

const limit = (description: string) => quantity(description);

export const requirementSchema = z.strictObject({
  quantity: z
    .enum([...REQUIREMENT_QUANTITIES, ...EXTENDED_REQUIREMENTS])
    .describe("What is required; beyond preload, rotor movement and air gap it needs the extended section"),
  states: statesSchema,
  low: limit('Least value that is good, such as "8000 h"'),
  high: limit('Greatest value that is good, such as "12 N.mm"'),
  within: limit('Both limits at once, as ± of this, such as "8 um"'),
});

const loadSchema = z.strictObject({
  name: z.string().optional().describe("What the load is"),
  states: statesSchema,
  radial: drawn('Load across the shaft, such as "300 ±50 N"'),
  axial: drawn("Load along the shaft, positive from a to b"),
  moment: drawn('Moment about an axis across the shaft, such as "2 N.m"'),
  at: quantity("Position along the shaft from the middle of the pair, positive towards b"),
  radius: quantity("Distance from the axis at which the axial load acts; 0 when left out"),
});

export const extendedSchema = z.strictObject({
  samples: z.number().optional().describe("First units that are looked at: 10000 when left out"),
  span: quantity("Distance of the ball planes; from the chain and the ring widths when left out"),
  loads: z.array(loadSchema).optional().describe("External loads; those of one state act together"),
  probe: z
    .strictObject({
      radius: quantitySchema.describe("Distance from the axis at which movement and play are looked at"),
      at: quantity("Position along the shaft from the middle of the pair, positive towards b; 0 when left out"),
      sideLoad: quantity('Axial load on a rim at that radius, such as "20 N"; 10 N when left out'),
    })
    .optional()
    .describe("Where movement and play of a rim are looked at"),
  speed: drawn('Speed of the shaft, such as "3000 rpm"; that of a state goes before it'),
  viscosity: drawn('Kinematic viscosity of the oil at running temperature, such as "25 mm2/s"'),
  rotating: z.enum(["inner", "outer"]).optional().describe("Ring that turns against the load: inner when left out"),
  shoulder: quantity("Height of the groove shoulder over the ball diameter; 0.2 when left out"),
});

const heatPathSchema = z.strictObject({
  from: z.string().describe("Body: housing, shaft, outer, inner or balls (of both bearings), or outer-a, inner-b, ..."),
  to: z.string().describe("The other body, or ambient"),
  conductance: drawnSchema.describe('Conductance, such as "0.8 ±0.2 W/K"'),
});

export const thermalSchema = z.strictObject({
  paths: z.array(heatPathSchema).describe("Paths of heat between bodies and to ambient"),
});

export const networkSchema = z.strictObject({
  ambient: drawnSchema.describe('Temperature of the surroundings, such as "25 ±3 degC"'),
  heat: z
    .record(z.string(), drawnSchema)
    .optional()
    .describe('Heat put into bodies from outside, such as { housing: "15 ±3 W" }'),
});

const gapMemberSchema = z.strictObject({
  name: z.string().describe("Name, unique in the gap"),
  side: z.enum(["housing", "shaft"]).describe("Housing members count plus, shaft members minus"),
  length: drawnSchema.describe('Length as on the drawing, such as "12.50 ±0.02"'),
  subtract: z.boolean().optional().describe("The member counts the other way"),
  material: z.string().optional().describe("Material; that of the side's seats when left out"),
  zone: z.string().optional().describe("Zone whose temperature it has; that of its side when left out"),
});

export const gapSchema = z.strictObject({
  bearing: z.enum(["a", "b"]).describe("The bearing that locates the shaft, from whose seats the members are counted"),
  shaftMovesInboard: z
    .enum(["opens", "closes"])
    .describe("What the gap does when the shaft moves from that bearing towards the other"),
  members: z.array(gapMemberSchema).describe("From the seats of that bearing to the two faces of the gap"),
});

export type RequirementEntry = z.infer<typeof requirementSchema>;
export type ExtendedEntry = z.infer<typeof extendedSchema>;
export type LoadEntry = z.infer<typeof loadSchema>;
export type ThermalEntry = z.infer<typeof thermalSchema>;
export type NetworkEntry = z.infer<typeof networkSchema>;
export type GapEntry = z.infer<typeof gapSchema>;
