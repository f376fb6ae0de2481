import { readFileSync } from "node:fs";

/** The compiled module of the fast kernel, as the build leaves it. */
export function compiledKernel(): WebAssembly.Module {
  return new WebAssembly.Module(readFileSync(new URL("../../.build/kernel.wasm", import.meta.url)));
}
