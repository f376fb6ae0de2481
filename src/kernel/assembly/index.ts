export * from "./draw";
export * from "./fill";
