import * as z from "zod";
import { drawn, quantity, quantitySchema } from "./schema-drawn.ts";

const instrument = {
  limits: quantity('Limits of error of the instrument, such as "±2 um": every error between them equally likely'),
  resolution: quantity('Step of its display, such as "1 um"'),
  instrument: z
    .string()
    .optional()
    .describe("Its name: readings with the same one share its error, so that it cancels in differences"),
};

const readingsOf = {
  values: z.array(quantitySchema).optional().describe("Readings one after another, each with its unit"),
  ...instrument,
};

const playSchema = z.strictObject(readingsOf);

export const auditSchema = z
  .strictObject({
    unit: z.union([z.string(), z.number()]).optional().describe("What the unit is called, such as its serial number"),
    temperature: drawn('Temperature while measuring, such as "22 ±1 degC"; measuredAt when left out'),
    limits: instrument.limits,
    resolution: instrument.resolution,
    readings: z
      .array(
        z.strictObject({
          name: z.string().describe("Member of the chain, or the address of another dimension"),
          ...readingsOf,
        }),
      )
      .optional()
      .describe("What was measured on this unit"),
    readingsFile: z
      .union([
        z.string(),
        z.strictObject({
          file: z.string().describe("File beside the scenario"),
          separator: z
            .enum([",", ";", "tab"])
            .optional()
            .describe("What sets the columns apart; a comma when left out"),
          decimal: z.enum([".", ","]).optional().describe("Decimal point or comma; a point when left out"),
        }),
      ])
      .optional()
      .describe("CSV file whose columns are named as the readings, with units; play a, play b, play pair for plays"),
    play: z
      .strictObject({
        a: playSchema.optional().describe("Axial play of bearing a before mounting, end to end"),
        b: playSchema.optional().describe("Axial play of bearing b before mounting, end to end"),
        pair: playSchema.optional().describe("Axial play of the shaft in the assembled unit on the bench, end to end"),
      })
      .optional()
      .describe("Axial plays measured on this unit"),
    decide: z
      .union([z.number(), z.string()])
      .optional()
      .describe("Chance of being good that makes it a go, such as 95 %; its complement makes it a no-go"),
    shimStep: quantity('Step in which spacings can be changed by shims, such as "10 um"'),
    from: z.string().optional().describe("Where the readings come from, for the report"),
  })
  .describe("One measured assembly");

export type AuditEntry = z.infer<typeof auditSchema>;
export type ReadingsEntry = z.infer<typeof playSchema>;
