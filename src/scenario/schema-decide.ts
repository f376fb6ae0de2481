import * as z from "zod";

export const variantSchema = z.strictObject({
  name: z.string().describe("What to call the variant"),
  set: z
    .record(z.string(), z.unknown())
    .describe(
      'Changes by address, such as "bearings.both.clearanceGroup: C4" or "chain.shaft spacer.length: 31.77 ±0.004"',
    ),
});
export type VariantEntry = z.infer<typeof variantSchema>;
