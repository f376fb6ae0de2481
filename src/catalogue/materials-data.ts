/** How well the figures of a material are supported. */
export type MaterialStatus = "printed" | "partly from memory" | "from memory";

/**
 * One material. The range of temperature of every material is an assumption: where the expansion may still be taken as
 * one number and the material keeps its size; beyond it the program warns.
 */
export interface MaterialRecord {
  readonly name: string;
  /** Mean linear expansion near 20 to 100 °C, 1/K. */
  readonly expansionPerK: number;
  readonly youngsModulusMPa: number;
  readonly poissonRatio: number;
  readonly densityKgPerM3: number;
  readonly lowestC: number;
  readonly highestC: number;
  readonly source: string;
  readonly status: MaterialStatus;
}

/** Name; expansion 1e-6/K, E GPa, ν, density kg/m³, range °C; source; status. */
type Row = readonly [string, number, number, number, number, number, number, string, MaterialStatus];

const APPENDIX = "materials appendix of a printed bearing catalogue";

// biome-ignore format: a table reads as a table
const ROWS: readonly Row[] = [
  ["bearing-steel", 12.5, 208, 0.3, 7830, -60, 150, `hardened 1.0 % C chromium steel (100Cr6): ${APPENDIX}; E and ν as in ISO 76`, "printed"],
  ["carbon-steel", 11.6, 206, 0.29, 7860, -60, 300, `mild steel, 0.12 to 0.20 % C: ${APPENDIX}`, "printed"],
  ["hard-carbon-steel", 11.3, 206, 0.29, 7840, -60, 300, `0.3 to 0.5 % C: ${APPENDIX}; ν from memory`, "partly from memory"],
  ["martensitic-stainless", 10.1, 200, 0.283, 7680, -60, 150, `type 440C: ${APPENDIX}; ν from memory`, "partly from memory"],
  ["austenitic-stainless", 16.3, 193, 0.29, 8030, -100, 400, `type 304: ${APPENDIX}; ν from memory`, "partly from memory"],
  ["aluminium-6061", 23.4, 68.9, 0.33, 2730, -60, 150, "6061-T6: appendix of an engineering course book", "printed"],
  ["aluminium-7075", 23.4, 71.7, 0.33, 2780, -60, 120, "7075-T6: appendix of an engineering course book", "printed"],
  ["aluminium-pure", 23.7, 70.6, 0.33, 2690, -60, 150, `pure aluminium: ${APPENDIX}`, "printed"],
  ["cast-aluminium-a356", 21, 70, 0.33, 2600, -60, 200, "A356/357 (AlSi7Mg): comparison pages of a materials database", "printed"],
  ["cast-aluminium-45300", 22, 71, 0.33, 2700, -60, 200, "EN AC-45300: comparison page of a materials database", "printed"],
  ["titanium-6al4v", 8.6, 114, 0.32, 4420, -60, 300, "Ti-6Al-4V: data sheet, expansion 0 to 100 °C", "printed"],
  ["magnesium-az91", 27, 46, 0.29, 1800, -60, 120, "AZ91D: comparison page of a materials database (handbooks: 26, 45 GPa, 0.35)", "printed"],
  ["grey-iron", 10.4, 98.1, 0.26, 7300, -60, 300, `EN-GJL-200: ${APPENDIX}; ν from memory`, "partly from memory"],
  ["ductile-iron", 11.7, 169, 0.275, 7000, -60, 300, `EN-GJS-400: ${APPENDIX}; in part from memory`, "partly from memory"],
  ["brass", 19.1, 103, 0.34, 8500, -60, 200, APPENDIX, "printed"],
  ["silicon-nitride", 3.3, 310, 0.27, 3270, -100, 800, "bearing-grade Si3N4, hot pressed: printed table of ceramics", "printed"],
  ["peek", 47, 3.8, 0.39, 1300, -40, 140, "unfilled PEEK, below its glass transition", "from memory"],
  ["peek-cf30-along-flow", 5, 22.8, 0.4, 1480, -40, 140, "PEEK with 30 % carbon fibre, along the flow (25e-6/K across it): data sheet to ISO 11359 and ISO 527; ν from memory", "partly from memory"],
  ["pps-gf40-along-flow", 15, 15, 0.38, 1660, -40, 85, "PPS with 40 % glass fibre, along the flow (35e-6/K across it): data sheet to ISO 11359 and ISO 527; ν from memory", "partly from memory"],
  ["pa66-gf30-along-flow", 25, 9, 0.35, 1370, -40, 70, "PA66 with 30 % glass fibre, dry as moulded, along the flow (60 to 110e-6/K across it; 5.7 GPa conditioned): E from a data sheet to ISO 527, expansion from memory", "partly from memory"],
];

export const MATERIALS: readonly MaterialRecord[] = ROWS.map(
  ([name, expansionMillionthsPerK, modulusGPa, poissonRatio, densityKgPerM3, lowestC, highestC, source, status]) =>
    Object.freeze({
      name,
      expansionPerK: expansionMillionthsPerK / 1e6,
      youngsModulusMPa: Math.round(modulusGPa * 1000),
      poissonRatio,
      densityKgPerM3,
      lowestC,
      highestC,
      source,
      status,
    }),
);

/**
 * Everyday names and standard designations. A family name stands for its most usual member only where the members expand
 * alike; `stainless-steel` (10.1 or 16.3e-6/K) is refused instead.
 */
export const MATERIAL_ALIASES: Readonly<Record<string, string>> = {
  "100cr6": "bearing-steel",
  "52100": "bearing-steel",
  steel: "carbon-steel",
  "mild-steel": "carbon-steel",
  "440c": "martensitic-stainless",
  "304": "austenitic-stainless",
  aluminium: "aluminium-6061",
  "6061": "aluminium-6061",
  "7075": "aluminium-7075",
  "en-ac-45300": "cast-aluminium-45300",
  a356: "cast-aluminium-a356",
  "cast-aluminium": "cast-aluminium-a356",
  titanium: "titanium-6al4v",
  "ti-6al-4v": "titanium-6al4v",
  magnesium: "magnesium-az91",
  az91d: "magnesium-az91",
  "cast-iron": "grey-iron",
  "gray-iron": "grey-iron",
  "en-gjl-200": "grey-iron",
  "en-gjs-400": "ductile-iron",
  si3n4: "silicon-nitride",
};

/** Names that stand for materials too unlike one another to choose between. */
export const AMBIGUOUS_MATERIALS: Readonly<Record<string, readonly string[]>> = {
  "stainless-steel": ["martensitic-stainless", "austenitic-stainless"],
  stainless: ["martensitic-stainless", "austenitic-stainless"],
  iron: ["grey-iron", "ductile-iron"],
  plastic: ["peek", "peek-cf30-along-flow", "pps-gf40-along-flow", "pa66-gf30-along-flow"],
  polymer: ["peek", "peek-cf30-along-flow", "pps-gf40-along-flow", "pa66-gf30-along-flow"],
};
