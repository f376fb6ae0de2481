export * from "./draw";
export * from "./fill";
export * from "./pairs";
export * from "./statistics";
