/** The kinds of quantity that a scenario may hold, each with its internal unit and the words for a message about it. */

export type Dimension =
  | "length"
  | "area"
  | "force"
  | "temperature"
  | "temperature difference"
  | "stiffness"
  | "pressure"
  | "torque"
  | "power"
  | "thermal conductance"
  | "viscosity"
  | "speed"
  | "time"
  | "angle"
  | "expansion"
  | "density"
  | "ratio"
  | "money";

export interface DimensionRecord {
  /** Unit of the number that `parseQuantity` returns, as the program names it. */
  readonly internalUnit: string;
  /** The same unit in the spelling of the units library; empty where the library is not asked. */
  readonly libraryUnit: string;
  /** With an article, for a message: `a length`. */
  readonly article: string;
  /** A value that would be accepted. */
  readonly example: string;
  /** Units that people use for it, smallest first: the candidates of a "did you mean". */
  readonly usual: readonly string[];
  /** Largest size that can be meant, in `internalUnit`: far beyond any machine, and far from where products overflow. */
  readonly greatest: number;
}

export const DIMENSIONS: Readonly<Record<Dimension, DimensionRecord>> = {
  length: {
    internalUnit: "mm",
    libraryUnit: "mm",
    article: "a length",
    example: "12 um",
    usual: ["um", "mm", "m"],
    greatest: 1e6,
  },
  area: {
    internalUnit: "mm2",
    libraryUnit: "mm^2",
    article: "an area",
    example: "150 mm2",
    usual: ["mm2", "cm2"],
    greatest: 1e9,
  },
  force: {
    internalUnit: "N",
    libraryUnit: "N",
    article: "a force",
    example: "50 N",
    usual: ["N", "kN"],
    greatest: 1e10,
  },
  temperature: {
    internalUnit: "degC",
    libraryUnit: "",
    article: "a temperature",
    example: "80 degC",
    usual: ["degC", "K"],
    greatest: 2000,
  },
  "temperature difference": {
    internalUnit: "K",
    libraryUnit: "degK",
    article: "a temperature difference",
    example: "5 K",
    usual: ["K"],
    greatest: 2000,
  },
  stiffness: {
    internalUnit: "N/mm",
    libraryUnit: "N/mm",
    article: "a stiffness",
    example: "20 N/mm",
    usual: ["N/m", "N/mm", "N/um"],
    greatest: 1e12,
  },
  pressure: {
    internalUnit: "MPa",
    libraryUnit: "MPa",
    article: "a pressure or stress",
    example: "210 GPa",
    usual: ["Pa", "MPa", "GPa"],
    greatest: 1e7,
  },
  torque: {
    internalUnit: "N.mm",
    libraryUnit: "N*mm",
    article: "a torque",
    example: "15 N.mm",
    usual: ["N.mm", "N.m"],
    greatest: 1e12,
  },
  power: {
    internalUnit: "W",
    libraryUnit: "W",
    article: "a power",
    example: "30 W",
    usual: ["mW", "W", "kW"],
    greatest: 1e9,
  },
  "thermal conductance": {
    internalUnit: "W/K",
    libraryUnit: "W/degK",
    article: "a thermal conductance",
    example: "0.8 W/K",
    usual: ["mW/K", "W/K"],
    greatest: 1e9,
  },
  viscosity: {
    internalUnit: "mm2/s",
    libraryUnit: "mm^2/s",
    article: "a kinematic viscosity",
    example: "30 mm2/s",
    usual: ["mm2/s", "m2/s"],
    greatest: 1e9,
  },
  speed: {
    internalUnit: "1/min",
    libraryUnit: "1/min",
    article: "a speed",
    example: "3000 rpm",
    usual: ["rpm", "1/s"],
    greatest: 1e7,
  },
  time: {
    internalUnit: "h",
    libraryUnit: "h",
    article: "a time",
    example: "20000 h",
    usual: ["s", "min", "h"],
    greatest: 1e9,
  },
  angle: {
    internalUnit: "rad",
    libraryUnit: "rad",
    article: "an angle",
    example: "15 deg",
    usual: ["deg", "rad"],
    greatest: 1000,
  },
  expansion: {
    internalUnit: "1/K",
    libraryUnit: "1/degK",
    article: "a coefficient of expansion",
    example: "12.5e-6/K",
    usual: ["um/m/K", "1/K"],
    greatest: 1000,
  },
  density: {
    internalUnit: "kg/m3",
    libraryUnit: "kg/m^3",
    article: "a density",
    example: "7850 kg/m3",
    usual: ["kg/m3", "g/cm3"],
    greatest: 1e6,
  },
  ratio: {
    internalUnit: "1",
    libraryUnit: "",
    article: "a plain number or percentage",
    example: "2 %",
    usual: ["%"],
    greatest: 1e9,
  },
  money: {
    internalUnit: "",
    libraryUnit: "",
    article: "an amount of money",
    example: "12.50 EUR",
    usual: [],
    greatest: 1e15,
  },
};

export const ABSOLUTE_ZERO_C = -273.15;
