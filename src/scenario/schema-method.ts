import * as z from "zod";
import { drawn, drawnSchema, quantity, quantitySchema } from "./schema-drawn.ts";

/** Ways of setting the preload. */
export const PRELOAD_METHODS = ["position", "spring", "adjuster", "shim"] as const;

const springSchema = z.strictObject({
  form: z.enum(["wave", "coil", "diaphragm"]).optional().describe("What kind of spring: wave when left out"),
  slides: z
    .enum(["outer-a", "outer-b", "inner-a", "inner-b"])
    .optional()
    .describe("The ring that the spring pushes and that slides on its seat: outer-b when left out"),
  freeLength: drawnSchema.describe('Length of one spring without force, such as "4.0 ±0.1 mm"'),
  rate: drawnSchema.describe('Rate of one spring, such as "40 ±4 N/mm"'),
  solidHeight: drawn('Length of one spring pressed solid, such as "1.6 ±0.05 mm"'),
  stop: drawn("Travel of one spring to its stop, in place of solidHeight"),
  parallel: z.number().optional().describe("Springs side by side: rates add; 1 when left out"),
  series: z.number().optional().describe("Springs behind one another: lengths and travels add; 1 when left out"),
});

const adjusterSchema = z.strictObject({
  advance: drawn('Offset past zero play, set on the bench for each unit, such as "12 ±3 um"'),
  torque: drawn('Friction torque of both bearings that the adjuster is turned to, such as "25 ±5 N.mm"'),
  noLoadTorque: drawn("Torque of both bearings without preload; worked out from their size when left out"),
});

const shimSchema = z.strictObject({
  measure: z
    .enum(["dimensions", "play"])
    .describe("What is measured of each unit: its dimensions only, or the play of the assembled pair"),
  step: quantitySchema.describe('Step of the stock of shims, such as "0.02 mm"'),
  range: z
    .union([
      z.string(),
      z.strictObject({
        low: quantitySchema.describe("Most that shims take away"),
        high: quantitySchema.describe("Most that shims add"),
      }),
    ])
    .optional()
    .describe('Corrections that the stock allows, such as "-0.2..0.2 mm"; without limit when left out'),
  error: drawn('Error of the measurement, such as "0 ±5 um"; none when left out'),
  aim: quantity(
    "Offset aimed at: machined (dimensions) or past zero play (play); the middle of the nominal window when left out",
  ),
});

export const methodSchema = z.strictObject({
  method: z.string().describe(`How preload is set: ${PRELOAD_METHODS.join(", ")}`),
  spring: springSchema.optional().describe("The spring, with method: spring"),
  adjuster: adjusterSchema.optional().describe("The threaded adjuster, with method: adjuster"),
  shim: shimSchema.optional().describe("The shims chosen for each unit, with method: shim"),
});

export type MethodEntry = z.infer<typeof methodSchema>;
export type SpringEntry = z.infer<typeof springSchema>;
export type AdjusterEntry = z.infer<typeof adjusterSchema>;
export type ShimEntry = z.infer<typeof shimSchema>;
