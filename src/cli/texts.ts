import packageJson from "../../package.json" with { type: "json" };

export const VERSION: string = packageJson.version;

/** Who made a result. */
export const MAKER = {
  version: VERSION,
  platform: `node ${process.versions.node} ${process.platform} ${process.arch}`,
};

export const EXIT_CODES = `Exit codes:
  0    done
  1    ran, and what is required was not reached: the yield; for a batch in most draws; for an audited unit a go
  2    wrong usage, scenario or file; no result was written
  3    a fault of the program
  130  interrupted; no result was written`;

export const CAUTIONS = `Cautions:
  A result is a probability computed from the inputs given, no better than they are. It does not replace
  standards, local codes, the bearing supplier's advice or licensed engineering practice. Rotating machinery,
  brakes and hot parts can injure: guard them, let them cool, and prove a design on real units before relying on it.`;
