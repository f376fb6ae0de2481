import { type Command, InvalidArgumentError } from "commander";
import { completionScript, SHELLS, type Shell } from "../completion.ts";

/** `seatspread completion`: what a shell needs to complete commands, options and files. */
export function completionCommand(program: Command): void {
  program
    .command("completion")
    .description("print what a shell needs to complete commands, options and scenario files")
    .argument("<shell>", `one of ${SHELLS.join(", ")}`, (name: string): Shell => {
      const shell = SHELLS.find((known) => known === name);
      if (shell === undefined) throw new InvalidArgumentError(`Expected one of ${SHELLS.join(", ")}.`);
      return shell;
    })
    .addHelpText(
      "after",
      `
Examples:
  seatspread completion bash > ~/.local/share/bash-completion/completions/seatspread
  seatspread completion zsh > "\${fpath[1]}/_seatspread"
  seatspread completion fish > ~/.config/fish/completions/seatspread.fish`,
    )
    .action((shell: Shell) => {
      process.stdout.write(completionScript(shell, program));
    });
}
