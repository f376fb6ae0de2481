export * from "./draw";
export * from "./fill";
export * from "./offsets";
export * from "./pairs";
export * from "./statistics";
