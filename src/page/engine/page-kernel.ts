import type { KernelChoice } from "../../kernel/open.ts";

/** The compiled kernel as text, put in by the build. */
declare const SEATSPREAD_KERNEL: string;

let choice: KernelChoice | null = null;

/** The fast kernel; the plain one in a browser that cannot run it. Both give the same bits. */
export function pageKernel(): KernelChoice {
  choice ??= compiled();
  return choice;
}

function compiled(): KernelChoice {
  const bytes = Uint8Array.from(atob(SEATSPREAD_KERNEL), (letter) => letter.charCodeAt(0));
  return typeof WebAssembly === "object" && WebAssembly.validate(bytes) ? new WebAssembly.Module(bytes) : "plain";
}
