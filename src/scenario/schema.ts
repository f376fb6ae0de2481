import * as z from "zod";
import { auditSchema } from "./schema-audit.ts";
import { batchSchema, benchCheckSchema, costsSchema, samplingSchema } from "./schema-batch.ts";
import { toleranceCostsSchema, variantSchema } from "./schema-decide.ts";
import { drawn, drawnObjectSchema, drawnSchema, quantity, quantitySchema } from "./schema-drawn.ts";
import { methodSchema } from "./schema-method.ts";
import { extendedSchema, gapSchema, networkSchema, requirementSchema, thermalSchema } from "./schema-requests.ts";

/** Version of the scenario format, written in the file as `seatspread: 1`. */
export const SCHEMA_VERSION = 1;

/** What a state can give a temperature to; the plural ones stand for both bearings. */
export const ZONE_KEYS = [
  "housing",
  "shaft",
  "outerRings",
  "innerRings",
  "balls",
  "outerRingA",
  "outerRingB",
  "innerRingA",
  "innerRingB",
  "ballsA",
  "ballsB",
] as const;
export type ZoneKey = (typeof ZONE_KEYS)[number];

const materialObject = z.strictObject({
  name: z.string().optional().describe("What to call it in the report"),
  expansion: quantitySchema.describe('Coefficient of thermal expansion, such as "23.4 um/m/K"'),
  youngsModulus: quantitySchema.describe('Young\'s modulus, such as "69 GPa"'),
  poissonRatio: z.number().describe("Poisson's ratio, 0 to 0.5"),
  density: quantity('Density, such as "2700 kg/m3"'),
  lowest: quantity("Lowest temperature that the figures hold for"),
  highest: quantity("Highest temperature that the figures hold for"),
});
const materialSchema = z.union([z.string(), materialObject]);
const material = (description: string) => materialSchema.optional().describe(description);

const bearingSchema = z.strictObject({
  designation: z
    .union([z.string(), z.number()])
    .optional()
    .describe('Designation from the catalogue, such as "6004"; or give the dimensions and the ball set'),
  contactAngle: drawn('Free contact angle of an angular-contact bearing, such as "15 deg" or "15 ±1 deg"'),
  bore: quantity("Bore diameter"),
  outsideDiameter: quantity("Outside diameter"),
  width: quantity("Ring width"),
  ballCount: z.number().optional().describe("Number of balls; with ballDiameter and pitchDiameter"),
  ballDiameter: quantity("Ball diameter"),
  pitchDiameter: quantity("Pitch diameter of the ball set"),
  dynamicRating: quantity("Basic dynamic load rating C, only together with the ball set it belongs to"),
  staticRating: quantity("Basic static load rating C0, only together with the ball set it belongs to"),
  clearanceGroup: z.string().optional().describe("Radial clearance group C2, CN, C3, C4 or C5 (ISO 5753-1)"),
  clearance: drawn('Free radial clearance, instead of a group, such as "5..20 um"'),
  toleranceClass: z
    .union([z.string(), z.number()])
    .optional()
    .describe("Tolerance class of the rings: Normal, 6 or 5 (ISO 492)"),
  conformityInner: drawn("Inner groove radius over ball diameter, above 0.5"),
  conformityOuter: drawn("Outer groove radius over ball diameter, above 0.5"),
  standOut: drawn("Axial position of the inner groove against the outer, which adds to the offset"),
  balls: material("Material of the balls"),
  rings: material("Material of the rings"),
  ringRoughness: quantity('Roughness Rz of the rings\' seating surfaces, such as "1 um"'),
  ringModel: z
    .enum(["groove-bottom", "mean-groove"])
    .optional()
    .describe("Cylinder that stands for a ring when the seat presses on it"),
});

const seatSchema = z.strictObject({
  fit: drawn('Diameter of the seat: a code such as "20 k5", limits such as "20.002 ±0.004", or a distribution'),
  seatSide: z
    .enum(["inboard", "outboard"])
    .optional()
    .describe("Where the ring's shoulder is: inboard faces the other bearing"),
  retained: z.boolean().optional().describe("The ring is also held on the side away from its shoulder"),
  roughness: drawn("Roughness Rz of this seat"),
});

const seatPair = {
  both: seatSchema.optional().describe("What the two seats have in common"),
  a: seatSchema.optional().describe("The seat of bearing a (left); overrides both"),
  b: seatSchema.optional().describe("The seat of bearing b (right); overrides both"),
};

const memberSchema = z.strictObject({
  name: z.string().describe("Name, unique in the chain"),
  side: z.enum(["housing", "shaft"]).describe("Housing members count plus, shaft members minus (X: turned)"),
  length: drawnSchema.describe('Length as on the drawing, such as "60.00 ±0.01"'),
  subtract: z.boolean().optional().describe("The member shortens its side's spacing"),
  material: material("Material; that of the side's seats when left out"),
  zone: z
    .string()
    .optional()
    .describe(`Zone whose temperature it has: ${ZONE_KEYS.join(", ")}`),
  area: quantity('Section area, such as "200 mm2"; needed for any elastic shortening'),
  clampPath: z.boolean().optional().describe("The clamp force runs through it"),
  carriesPreload: z.boolean().optional().describe("The preload runs through it and makes it give way"),
});

const relativeTemperature = z.strictObject({
  above: z.enum(ZONE_KEYS).optional().describe("This zone is warmer than the one named here"),
  below: z.enum(ZONE_KEYS).optional().describe("This zone is cooler than the one named here"),
  by: drawnSchema.describe('Temperature difference, such as "8 ±2 K"'),
});
const temperatureSchema = z.union([z.string(), z.number(), relativeTemperature, drawnObjectSchema]);
export type TemperatureEntry = z.infer<typeof temperatureSchema>;

const zoneShape = Object.fromEntries(
  ZONE_KEYS.map((key) => [key, temperatureSchema.optional().describe(`Temperature of ${zoneWords(key)}`)]),
) as Record<ZoneKey, z.ZodOptional<typeof temperatureSchema>>;

const stateSchema = z.strictObject({
  name: z.string().describe("Short name: letters, digits, - and _"),
  label: z.string().optional().describe("What the report calls the state"),
  bench: z.boolean().optional().describe("The state in which a check on the bench can find a bad unit"),
  share: z.union([z.number(), z.string()]).optional().describe("Share of duty, such as 0.6 or 60 %"),
  network: networkSchema.optional().describe("Find the temperatures by a heat balance, with thermal.paths"),
  speed: drawn("Speed of the shaft in this state"),
  viscosity: drawn("Kinematic viscosity of the oil in this state"),
  ...zoneShape,
});

export const scenarioSchema = z.strictObject({
  seatspread: z.number().describe(`Version of this format: ${SCHEMA_VERSION}`),
  name: z.string().optional().describe("Short name for the output folder: letters, digits, - and _"),
  title: z.string().optional().describe("Title of the report"),
  description: z.string().optional().describe("What the assembly is and does"),
  arrangement: z.string().describe("back-to-back (O) or face-to-face (X)"),
  bearings: z
    .strictObject({
      both: bearingSchema.optional().describe("What the two bearings have in common"),
      a: bearingSchema.optional().describe("Bearing a (left); overrides both"),
      b: bearingSchema.optional().describe("Bearing b (right); overrides both"),
    })
    .describe("The two bearings"),
  preload: methodSchema.optional().describe("How the preload is set; by position when left out"),
  chain: z.array(memberSchema).describe("Members of the dimension chain between the seats"),
  seats: z
    .strictObject({
      shaft: z
        .strictObject({
          ...seatPair,
          material: material("Material of the shaft"),
          bore: quantity("Bore of a hollow shaft; solid when left out"),
          roughness: drawn("Roughness Rz of the shaft seats"),
        })
        .describe("Where the inner rings sit"),
      housing: z
        .strictObject({
          ...seatPair,
          material: material("Material of the housing"),
          outsideDiameter: quantity("Outside diameter of the housing around the bearings"),
          roughness: drawn("Roughness Rz of the housing bores"),
        })
        .describe("Where the outer rings sit"),
    })
    .describe("The four seats"),
  clamp: z
    .strictObject({
      force: drawnSchema.describe('Clamp force, such as "2000 ±400 N"'),
      side: z.enum(["shaft", "housing"]).optional().describe("Which side is clamped: shaft when left out"),
    })
    .optional()
    .describe("Axial clamp of the inner rings (a nut) or of the outer rings (a cover)"),
  seatFriction: drawn("Coefficient of friction between ring and seat"),
  measuredAt: quantity("Temperature at which dimensions are measured; 20 degC when left out"),
  states: z.array(stateSchema).optional().describe("Duty states; only the bench at 20 °C when left out"),
  window: z
    .union([
      z.string(),
      z.strictObject({
        low: quantitySchema.describe('Least preload, such as "50 N" or "0.5 % of C"'),
        high: quantitySchema.describe('Most preload, such as "150 N" or "1.5 % of C"'),
      }),
    ])
    .optional()
    .describe('Target window of the preload, such as "0.5..1.5 % of C"'),
  bind: z
    .strictObject({
      preload: quantity('Preload that counts as binding, such as "900 N" or "10 % of C"'),
      pressure: quantity('Peak Hertz pressure that counts as binding, such as "4200 MPa", or "none"'),
      torque: quantity("Friction torque of both bearings, turned slowly with grease, that counts as binding"),
    })
    .optional()
    .describe("When a unit counts as binding: at the first of these"),
  requirements: z
    .array(requirementSchema)
    .optional()
    .describe("What a good unit must hold beside the window; without a window any preload below bind is good"),
  gap: gapSchema.optional().describe("A gap between shaft and housing that heat and preload move"),
  lubrication: z.enum(["grease", "oil bath"]).optional().describe("For friction torque and heat: grease when left out"),
  thermal: thermalSchema.optional().describe("Heat paths for the states that give a network"),
  extended: extendedSchema
    .optional()
    .describe("Stiffness, life, torque, movement and more, on the first units of the run"),
  toleranceCosts: toleranceCostsSchema.optional().describe("What the tolerances of the chain cost"),
  variants: z.array(variantSchema).optional().describe("Changes to be compared with the scenario as it stands"),
  requiredYield: z.union([z.number(), z.string()]).optional().describe("Yield that a batch must reach, such as 95 %"),
  batch: batchSchema.optional(),
  costs: costsSchema.optional(),
  sampling: samplingSchema.optional(),
  benchCheck: benchCheckSchema.optional(),
  correlations: z
    .array(
      z.strictObject({
        between: z.array(z.string()).describe("Addresses of the variables, such as bearings.a.clearance"),
        coefficient: z.number().describe("Correlation of their normal scores, −1 to 1"),
      }),
    )
    .optional()
    .describe("Variables that vary together"),
  audit: auditSchema.optional(),
  seed: z.union([z.string(), z.number()]).optional().describe("Seed of the random draws, any text"),
  samples: z.number().optional().describe("Number of units to simulate"),
});

export type ScenarioDocument = z.infer<typeof scenarioSchema>;
export type BearingEntry = z.infer<typeof bearingSchema>;
export type SeatEntry = z.infer<typeof seatSchema>;
export type MemberEntry = z.infer<typeof memberSchema>;
export type StateEntry = z.infer<typeof stateSchema>;
export type MaterialEntry = z.infer<typeof materialSchema>;

/** A zone in words. */
export function zoneWords(key: ZoneKey): string {
  const words: Record<ZoneKey, string> = {
    housing: "the housing",
    shaft: "the shaft",
    outerRings: "both outer rings",
    innerRings: "both inner rings",
    balls: "the balls of both bearings",
    outerRingA: "the outer ring of bearing a",
    outerRingB: "the outer ring of bearing b",
    innerRingA: "the inner ring of bearing a",
    innerRingB: "the inner ring of bearing b",
    ballsA: "the balls of bearing a",
    ballsB: "the balls of bearing b",
  };
  return words[key];
}
