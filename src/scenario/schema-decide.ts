import * as z from "zod";
import { quantity, quantitySchema } from "./schema-drawn.ts";

export const variantSchema = z.strictObject({
  name: z.string().describe("What to call the variant"),
  set: z
    .record(z.string(), z.unknown())
    .describe(
      'Changes by address, such as "bearings.both.clearanceGroup: C4" or "chain.shaft spacer.length: 31.77 ±0.004"',
    ),
});
export type VariantEntry = z.infer<typeof variantSchema>;

const positive = (description: string) => z.number().positive().describe(description);
const fixedPart = z.number().min(0).describe("Part of the price that no tolerance changes");
const bend = positive("Part that falls with the tolerance ±t, t in micrometres");
const processSchema = z.strictObject({
  process: z.string().describe("What the process is called"),
  tolerance: quantitySchema.describe('Tolerance that it holds, such as "±10 um"'),
  price: z.number().min(0).describe("Price of a part"),
});

const memberCostSchema = z.strictObject({
  reciprocal: z.strictObject({ a: fixedPart, b: bend }).optional().describe("Price a + b/t, t in micrometres"),
  reciprocalSquared: z.strictObject({ a: fixedPart, b: bend }).optional().describe("Price a + b/t², t in micrometres"),
  power: z
    .strictObject({ a: fixedPart, b: bend, k: positive("Exponent") })
    .optional()
    .describe("Price a + b/t^k, t in micrometres"),
  exponential: z
    .strictObject({ a: positive("Price at no tolerance"), b: positive("How fast it falls, per micrometre") })
    .optional()
    .describe("Price a·exp(−b·t), t in micrometres"),
  table: z.array(processSchema).optional().describe("Processes to choose from"),
  from: quantity("Tightest tolerance that the curve holds for; a fifth of the drawn one when left out"),
  to: quantity("Widest tolerance that the curve holds for; five times the drawn one when left out"),
});
export type MemberCostEntry = z.infer<typeof memberCostSchema>;

export const toleranceCostsSchema = z.strictObject({
  currency: z.string().optional().describe("Currency of all prices"),
  chain: z.record(z.string(), memberCostSchema).describe("Price of a part over its tolerance, by the member's name"),
});
export type ToleranceCostsEntry = z.infer<typeof toleranceCostsSchema>;
