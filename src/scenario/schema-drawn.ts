import * as z from "zod";

/** A quantity with its unit (`"12 um"`), or a bare number where the drawing's millimetre is understood. */
export const quantitySchema = z.union([z.string(), z.number()]);

const lowHigh = { low: quantitySchema.describe("Lower limit"), high: quantitySchema.describe("Upper limit") };
const readingList = z.array(quantitySchema).describe("Measured values, each with its unit");

const familyShapes = {
  limits: z.string().describe('Limits as on a drawing, such as "60 ±0.01", "60 +0.01/0" or "5..20 um"'),
  normal: z
    .strictObject({
      mean: quantitySchema.describe("Mean"),
      sd: quantitySchema.describe("Standard deviation"),
    })
    .describe("Normal distribution"),
  truncatedNormal: z
    .strictObject({
      mean: quantitySchema.describe("Mean before inspection"),
      sd: quantitySchema.describe("Standard deviation before inspection"),
      ...lowHigh,
    })
    .describe("Normal distribution cut at two limits, as inspection leaves it"),
  uniform: z.strictObject(lowHigh).describe("Every value between the limits equally likely"),
  triangular: z
    .strictObject({ ...lowHigh, mode: quantitySchema.describe("Most likely value") })
    .describe("Triangular distribution"),
  trapezoidal: z
    .strictObject({
      ...lowHigh,
      shoulderLow: quantitySchema.describe("Where the flat part begins"),
      shoulderHigh: quantitySchema.describe("Where the flat part ends"),
    })
    .describe("Trapezoidal distribution"),
  skewed: z
    .strictObject({
      ...lowHigh,
      mode: quantitySchema.optional().describe("Most likely value; or give mean and sd"),
      mean: quantitySchema.optional().describe("Mean; together with sd, instead of mode"),
      sd: quantitySchema.optional().describe("Standard deviation; together with mean, instead of mode"),
    })
    .describe("Skewed (beta) distribution between two limits"),
  lognormal: z
    .strictObject({
      mean: quantitySchema.describe("Mean"),
      sd: quantitySchema.describe("Standard deviation"),
      above: quantitySchema.optional().describe("Lower bound that values lie above; 0 when left out"),
    })
    .describe("Lognormal distribution"),
  readings: readingList.describe("Repeated readings of one quantity: its true value is drawn by Student's t"),
  meanOf: z
    .strictObject({
      mean: quantitySchema.describe("Mean of the readings"),
      standardUncertainty: quantitySchema.describe("Standard deviation of that mean, s/√n"),
      readings: z.number().describe("Number of readings, n"),
    })
    .describe("Mean of n readings, given by its figures (Student's t)"),
  measured: readingList.describe("Values measured on parts of this kind: new parts are drawn like them"),
  measuredFile: z
    .union([
      z.string(),
      z.strictObject({
        file: z.string().describe("File beside the scenario"),
        column: z.string().optional().describe("Name of the column"),
        separator: z.enum([",", ";", "tab"]).optional().describe("What sets the columns apart; a comma when left out"),
        decimal: z.enum([".", ","]).optional().describe("Decimal point or comma; a point when left out"),
        unit: z.string().optional().describe("Unit of a column whose name has none"),
      }),
    ])
    .describe("CSV or Arrow file with values measured on parts of this kind, beside the scenario"),
  arcsine: z.strictObject(lowHigh).describe("U-shaped distribution of a value that swings between two limits"),
};

/** Names of the families that a drawn quantity can be given by; exactly one stands in an object. */
export const FAMILY_KEYS = Object.keys(familyShapes) as (keyof typeof familyShapes)[];
export type FamilyKey = keyof typeof familyShapes;

export const drawnObjectSchema = z
  .strictObject({
    ...familyShapes,
    Cp: z.number().describe("Capability of the process that makes the limits: (high − low)/(6 sigma)"),
    Cpk: z.number().describe("Capability with its shift: distance to the nearer limit over 3 sigma"),
    shift: z.enum(["high", "low"]).describe("The side that a Cpk below Cp is shifted to"),
    inspected: z.boolean().describe("Parts outside the limits are sorted out"),
    column: z.string().describe("Column of measuredFile, with its unit in the file"),
    from: z.string().describe("Where measured values come from, for the report"),
    gaugeSd: quantitySchema.describe("Standard deviation of the gauge, to be taken out of measured values"),
    batchShare: z.number().describe("Share (0 to 1) of the variance that all units of one batch have in common"),
  })
  .partial()
  .describe("A distribution: exactly one family, and what belongs to it");

/** A quantity that may vary from unit to unit. */
export const drawnSchema = z.union([z.string(), z.number(), drawnObjectSchema]);

export type DrawnObject = z.infer<typeof drawnObjectSchema>;
export type Drawn = z.infer<typeof drawnSchema>;
export type Quantity = z.infer<typeof quantitySchema>;

/** A drawn quantity with a description of its own for editors. */
export function drawn(description: string) {
  return drawnSchema.optional().describe(description);
}

/** A fixed quantity with a description of its own for editors. */
export function quantity(description: string) {
  return quantitySchema.optional().describe(description);
}
