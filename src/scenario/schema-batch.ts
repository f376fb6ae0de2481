import * as z from "zod";
import { drawnSchema, quantity } from "./schema-drawn.ts";

const money = (description: string) => z.union([z.string(), z.number()]).optional().describe(description);
const share = (description: string) => z.union([z.string(), z.number()]).optional().describe(description);

export const batchSchema = z
  .strictObject({
    size: z.number().describe("Units in a batch"),
    warrantyYears: z.number().optional().describe("Length of the warranty in years; 1 when left out"),
    seenPerYear: z
      .record(z.string(), z.union([z.string(), z.number()]))
      .optional()
      .describe("Share of units that see a state in a year, by the state's name; all of them where left out"),
  })
  .describe("The batch that is made");

export const costsSchema = z
  .strictObject({
    unit: money('Cost of making a unit, such as "14.50 EUR"'),
    scrap: money("Cost of a unit that is scrapped at the bench; that of making it when left out"),
    rework: money("Cost of reworking a unit that fails at the bench; without it such units are scrapped"),
    reworkShare: share("Share of the failing units that rework saves; all of them when left out"),
    warranty: money("Cost of a unit that fails in service"),
  })
  .describe("What units cost, in one currency");

export const samplingSchema = z
  .array(
    z.strictObject({
      sample: z.number().describe("Units that are checked"),
      accept: z.number().describe("Most failing units with which the batch is accepted"),
    }),
  )
  .describe("Single sampling plans for the bench check");

export const benchCheckSchema = z
  .strictObject({
    gauge: z
      .enum(["play", "preload", "torque"])
      .describe("What is gauged on every unit: axial play, preload, or friction torque above that without preload"),
    low: quantity("Least reading that passes"),
    high: quantity("Greatest reading that passes"),
    error: drawnSchema.describe('Error of the gauge, such as "0 ±2 um"'),
  })
  .describe("A check of every unit on the bench");

export type CostsEntry = z.infer<typeof costsSchema>;
export type BatchEntry = z.infer<typeof batchSchema>;
export type BenchCheckEntry = z.infer<typeof benchCheckSchema>;
export type SamplingEntry = z.infer<typeof samplingSchema>;
