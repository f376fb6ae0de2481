/** What the library adds in Node: worker threads, and the compiled kernel and worker that come with the package. */
export { createPool } from "./engine/pool.ts";

/** Where the compiled kernel of this package is: read it and hand `new WebAssembly.Module(bytes)` to a run. */
export const KERNEL_URL: URL = new URL("../kernel.wasm", import.meta.url);

/** The script that `createPool` starts on every thread. */
export const WORKER_URL: URL = new URL("../worker.js", import.meta.url);
