/**
 * `npm run mutation [-- part of a file name …] [--survivors]`: puts one fault after another into src/physics, plays the tests
 * that come by it, and writes which were noticed into record.json; with `--survivors` it tries only those that were not.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { type Bundle, bundleTest } from "./bundle.ts";
import { codeHash, instrument } from "./instrument.ts";
import { type Mutant, type Site, sitesOf } from "./mutants.ts";
import { createPlayers, type Players } from "./players.ts";
import { type FileRecord, RECORD, type Record, ROOT, sourcesUnderMutation, testsThatMayNotice } from "./record.ts";

/** A mutant that makes a test take this much longer than without it hangs. */
const SLOWDOWN = 6;
const GRACE_MS = 5_000;

interface Numbered extends Mutant {
  readonly file: string;
  readonly number: number;
  /** Number of the first mutant at the same place: what the place leaves behind where a test comes by. */
  readonly place: number;
}

interface Timed {
  readonly bundle: number;
  readonly elapsedMs: number;
  readonly reached: Uint8Array;
}

process.env.SEATSPREAD_TEST_UNITS ??= "500";
process.env.SEATSPREAD_TEST_PAIRS ??= "300";

/** How many mutants of a file each test file noticed. */
const noticed = new Map<string, number>();
const mutants: Numbered[] = [];
const instrumented = new Map<string, string>();
for (const file of sourcesUnderMutation()) {
  const source = readFileSync(join(ROOT, file), "utf8");
  const sites: readonly Site[] = sitesOf(source);
  instrumented.set(file, instrument(source, sites, mutants.length));
  for (const { alternatives } of sites) {
    const place = mutants.length;
    for (const { mutant } of alternatives) mutants.push({ ...mutant, file, place, number: mutants.length });
  }
}

const SURVIVORS_ONLY = "--survivors";
const wanted = process.argv.slice(2).filter((argument) => argument !== SURVIVORS_ONLY);
const old: Record = existsSync(RECORD) ? (JSON.parse(readFileSync(RECORD, "utf8")) as Record) : {};
const hashes = new Map(sourcesUnderMutation().map((file) => [file, codeHash(readFileSync(join(ROOT, file), "utf8"))]));
const chosen = mutants.filter(({ file, name }) => {
  if (wanted.length > 0 && !wanted.some((part) => file.includes(part))) return false;
  // What was noticed once, in code that has not changed, is not tried again.
  const known = process.argv.includes(SURVIVORS_ONLY) && old[file]?.codeSha256 === hashes.get(file);
  return !known || old[file].survived.includes(name);
});
if (chosen.length === 0) throw new Error("No mutant is left to try: is the name that of a file in src/physics?");

const all = await Promise.all(testsThatMayNotice().map((file) => bundleTest(ROOT, file, instrumented)));
const bundles: readonly Bundle[] = all.filter(({ sources }) => sources.some((source) => instrumented.has(source)));
await build({
  entryPoints: [join(import.meta.dirname, "player.ts")],
  ...{ outfile: join(ROOT, ".build/mutation/player.mjs"), bundle: true, platform: "node", format: "esm" },
  ...{ packages: "external", target: "node20", logLevel: "error" },
});
const players = createPlayers(join(ROOT, ".build/mutation/player.mjs"), {
  ...{ root: ROOT, bundles, mutantCount: mutants.length },
});

const timed = await playWithout(players);
console.log(`${bundles.length} test files, ${chosen.length} mutants`);
const verdicts = await judgeAll();
players.close();
writeRecord(verdicts);

/** Every test file without a fault: it must pass, and shows what it takes and where it comes by. */
async function playWithout(players: Players): Promise<readonly Timed[]> {
  const played = await Promise.all(bundles.map((_, bundle) => players.play({ bundle, mutant: -1 }, 600_000)));
  for (const [bundle, { elapsedMs, tests }] of played.entries()) {
    console.log(`${bundles[bundle].file}: ${tests} tests, ${Math.round(elapsedMs)} ms`);
  }
  const failed = played.flatMap(({ failure }, bundle) =>
    failure === null ? [] : [`${bundles[bundle].file}: ${failure}`],
  );
  if (failed.length > 0) throw new Error(`Tests fail without any mutant:\n${failed.join("\n")}`);
  return played
    .map(({ elapsedMs, reached }, bundle) => ({ bundle, elapsedMs, reached }))
    .sort((a, b) => a.elapsedMs - b.elapsedMs);
}

type Verdict = Numbered & { readonly fate: "killed" | "hung" | "survived" | "unreached"; readonly by: string };

/** As many at a time as there are players, one file after another, so that what noticed the last ones is tried first. */
async function judgeAll(): Promise<readonly Verdict[]> {
  const verdicts: Verdict[] = [];
  const waiting = [...chosen];
  const lane = async () => {
    for (let mutant = waiting.shift(); mutant !== undefined; mutant = waiting.shift()) {
      verdicts.push(await judge(players, mutant, timed));
      if (verdicts.length % 100 === 0) console.log(`${verdicts.length} of ${chosen.length}`);
    }
  };
  await Promise.all(Array.from({ length: players.count }, lane));
  return verdicts.sort((a, b) => a.number - b.number);
}

function noticedBy(file: string, bundle: number): number {
  return noticed.get(`${file} ${bundle}`) ?? 0;
}

async function judge(players: Players, mutant: Numbered, timed: readonly Timed[]): Promise<Verdict> {
  const relevant = timed
    .filter(({ reached }) => reached[mutant.place] === 1)
    .sort((a, b) => rank(mutant.file, b) - rank(mutant.file, a));
  for (const { bundle, elapsedMs } of relevant) {
    const { failure } = await players.play({ bundle, mutant: mutant.number }, SLOWDOWN * elapsedMs + GRACE_MS);
    if (failure === null) continue;
    noticed.set(`${mutant.file} ${bundle}`, noticedBy(mutant.file, bundle) + 1);
    return { ...mutant, fate: failure === undefined ? "hung" : "killed", by: bundles[bundle].file };
  }
  const fate = relevant.length === 0 ? "unreached" : "survived";
  console.log(`${fate}: ${mutant.file}:${mutant.line} ${mutant.name}`);
  return { ...mutant, fate, by: "" };
}

/** Notices per time. */
function rank(file: string, { bundle, elapsedMs }: Timed): number {
  return (1 + noticedBy(file, bundle)) / elapsedMs;
}

function writeRecord(verdicts: readonly Verdict[]): void {
  const record: { [file: string]: FileRecord } = {};
  for (const [file, codeSha256] of hashes) {
    const own = verdicts.filter((verdict) => verdict.file === file);
    if (own.length === 0) {
      if (old[file] !== undefined) record[file] = old[file];
      continue;
    }
    const total = mutants.filter((mutant) => mutant.file === file).length;
    const of = (...fates: readonly Verdict["fate"][]) => own.filter(({ fate }) => fates.includes(fate));
    const hung = of("hung").length + (own.length < total ? old[file].hung : 0);
    const survived = of("survived", "unreached").map(({ name }) => name);
    record[file] = { codeSha256, mutants: total, killed: total - hung - survived.length, hung, survived };
  }
  writeFileSync(RECORD, `${JSON.stringify(record, null, 2)}\n`);
  const files = Object.values(record);
  const total = files.reduce((sum, { mutants }) => sum + mutants, 0);
  const survived = files.reduce((sum, file) => sum + file.survived.length, 0);
  console.log(`${total - survived} of ${total} mutants noticed`);
}
