import { createFastKernel } from "./fast.ts";
import type { Kernel } from "./kernel.ts";
import { PLAIN_KERNEL } from "./plain.ts";

/** Which kernel a thread is to use, in a form that travels between threads: the compiled module of the fast one, or "plain". */
export type KernelChoice = "plain" | WebAssembly.Module;

/** The kernel that was chosen; each call of the fast one has a memory of its own. */
export function openKernel(choice: KernelChoice): Kernel {
  return choice === "plain" ? PLAIN_KERNEL : createFastKernel(choice);
}
