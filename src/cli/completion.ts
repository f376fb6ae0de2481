import type { Command } from "commander";

export const SHELLS = ["bash", "zsh", "fish"] as const;
export type Shell = (typeof SHELLS)[number];

interface Flag {
  readonly short: string | null;
  readonly long: string;
  readonly words: string;
  readonly takesValue: boolean;
  readonly choices: readonly string[];
}

interface Verb {
  readonly name: string;
  readonly words: string;
  readonly flags: readonly Flag[];
  /** What its first argument is: files, or one of some words. */
  readonly choices: readonly string[];
  readonly takesFile: boolean;
}

/** A script for a shell, made from the commands themselves, so that it cannot fall behind them. */
export function completionScript(shell: Shell, program: Command): string {
  const verbs = program.commands.map(verbOf);
  const name = program.name();
  if (shell === "bash") return bash(name, verbs);
  return shell === "zsh" ? zsh(name, verbs) : fish(name, verbs);
}

function verbOf(command: Command): Verb {
  const flags = command.options.map((option) => ({
    short: option.short ?? null,
    long: option.long ?? option.flags,
    words: option.description,
    takesValue: option.required || option.optional,
    choices: option.argChoices ?? [],
  }));
  const help = { short: "-h", long: "--help", words: "display help for command", takesValue: false, choices: [] };
  const [argument] = command.registeredArguments;
  const isShell = command.name() === "completion";
  return {
    name: command.name(),
    words: command.description(),
    flags: [...flags, help],
    choices: isShell ? SHELLS : [],
    takesFile: argument !== undefined && !isShell,
  };
}

function bash(name: string, verbs: readonly Verb[]): string {
  const cases = verbs
    .map(({ name: verb, flags, choices }) => {
      const valued = flags
        .filter(({ takesValue }) => takesValue)
        .map(({ short, long, choices: words }) => {
          const pattern = short === null ? long : `${short}|${long}`;
          const reply =
            words.length > 0
              ? `COMPREPLY=($(compgen -W '${words.join(" ")}' -- "$current"))`
              : 'COMPREPLY=($(compgen -f -- "$current"))';
          return `        ${pattern}) ${reply}; return ;;`;
        });
      const long = flags.map((flag) => flag.long).join(" ");
      const words = choices.length > 0 ? `COMPREPLY=($(compgen -W '${choices.join(" ")}' -- "$current")); return` : ":";
      return `    ${verb})
      case "$previous" in
${valued.join("\n")}
        *) ;;
      esac
      if [[ $current == -* ]]; then COMPREPLY=($(compgen -W '${long}' -- "$current")); return; fi
      ${words} ;;`;
    })
    .join("\n");
  return `# ${name}: completion for bash
_${name}() {
  local current=\${COMP_WORDS[COMP_CWORD]} previous=\${COMP_WORDS[COMP_CWORD-1]}
  COMPREPLY=()
  if ((COMP_CWORD == 1)); then
    COMPREPLY=($(compgen -W '${verbs.map((verb) => verb.name).join(" ")} --help --version' -- "$current"))
    return
  fi
  case "\${COMP_WORDS[1]}" in
${cases}
  esac
  COMPREPLY=($(compgen -f -- "$current"))
}
complete -o filenames -F _${name} ${name}
`;
}

/** Inside single quotes of a zsh specification: a quote ends them, a colon or bracket would end a part. */
function zshWords(text: string): string {
  return text.replaceAll("'", "'\\''").replace(/[[\]:]/g, (mark) => `\\${mark}`);
}

function zsh(name: string, verbs: readonly Verb[]): string {
  const list = verbs.map((verb) => `    '${verb.name}:${zshWords(verb.words)}'`).join("\n");
  const cases = verbs
    .map(({ name: verb, flags, choices, takesFile }) => {
      const specs = flags.map(({ short, long, words, takesValue, choices: values }) => {
        const value = takesValue ? `:value:${values.length > 0 ? `(${values.join(" ")})` : "_files"}` : "";
        const ending = `[${zshWords(words)}]${value}'`;
        return short === null ? `'${long}${ending}` : `'(${short} ${long})'{${short},${long}}'${ending}`;
      });
      if (choices.length > 0) specs.push(`'1:word:(${choices.join(" ")})'`);
      else if (takesFile) specs.push("'*:file:_files'");
      return `    ${verb}) _arguments ${specs.join(" \\\n      ")} ;;`;
    })
    .join("\n");
  return `#compdef ${name}
_${name}() {
  local -a verbs=(
${list}
  )
  if ((CURRENT == 2)); then
    _describe 'command' verbs
    return
  fi
  local verb=$words[2]
  shift words
  ((CURRENT--))
  case $verb in
${cases}
  esac
}
if [[ \${funcstack[1]} == _${name} ]]; then _${name} "$@"; else compdef _${name} ${name}; fi
`;
}

function fish(name: string, verbs: readonly Verb[]): string {
  const quoted = (text: string) => `'${text.replace(/['\\]/g, (mark) => `\\${mark}`)}'`;
  const lines = [`# ${name}: completion for fish`];
  for (const { name: verb, words } of verbs) {
    lines.push(`complete -c ${name} -n __fish_use_subcommand -f -a ${verb} -d ${quoted(words)}`);
  }
  for (const { name: verb, flags, choices } of verbs) {
    const when = `-n '__fish_seen_subcommand_from ${verb}'`;
    for (const { short, long, words, takesValue, choices: values } of flags) {
      const letter = short === null ? "" : ` -s ${short.slice(1)}`;
      const value = values.length > 0 ? ` -x -a ${quoted(values.join(" "))}` : takesValue ? " -r" : "";
      lines.push(`complete -c ${name} ${when} -l ${long.slice(2)}${letter}${value} -d ${quoted(words)}`);
    }
    if (choices.length > 0) lines.push(`complete -c ${name} ${when} -f -a ${quoted(choices.join(" "))}`);
  }
  return `${lines.join("\n")}\n`;
}
