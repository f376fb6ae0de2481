/** Finding the known word that a misspelt one was meant to be. */

/**
 * Damerau–Levenshtein distance in its restricted form (optimal string alignment): the least number of insertions,
 * deletions, substitutions and swaps of neighbours that turn one word into the other.
 *
 * Source: F. J. Damerau, Commun. ACM 7 (1964) 171; V. I. Levenshtein, Sov. Phys. Dokl. 10 (1966) 707 (from memory).
 */
export function editDistance(from: string, to: string): number {
  const width = to.length + 1;
  let beforeLast = new Array<number>(width).fill(0);
  let last = Array.from({ length: width }, (_, column) => column);
  for (let row = 1; row <= from.length; row++) {
    const current = new Array<number>(width).fill(0);
    current[0] = row;
    for (let column = 1; column < width; column++) {
      const same = from[row - 1] === to[column - 1];
      let best = Math.min(last[column] + 1, current[column - 1] + 1, last[column - 1] + (same ? 0 : 1));
      const swapped = row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (swapped) best = Math.min(best, beforeLast[column - 2] + 1);
      current[column] = best;
    }
    beforeLast = last;
    last = current;
  }
  return last[width - 1];
}

/** Words longer than this are no misspelling of anything we know, and would only cost time. */
const LONGEST_WORD = 80;

/**
 * The candidate nearest to a word, or undefined when none is near enough to be what was meant.
 *
 * Near enough: at most a third of the longer word's letters, and one edit is always forgiven unless it changes the whole word. Case, spaces,
 * `-` and `_` do not count, so that `clearance_group` finds `clearanceGroup`. Of equally near ones the one of like
 * length wins, then the first.
 */
export function nearestName(word: string, candidates: Iterable<string>): string | undefined {
  const plainWord = plain(word);
  if (plainWord === "" || plainWord.length > LONGEST_WORD) return undefined;
  let nearest: string | undefined;
  let nearestRank = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    const plainCandidate = plain(candidate);
    const longer = Math.max(plainWord.length, plainCandidate.length);
    const allowed = Math.min(Math.max(1, Math.floor(longer / 3)), longer - 1);
    if (Math.abs(plainWord.length - plainCandidate.length) > allowed) continue;
    const distance = editDistance(plainWord, plainCandidate);
    if (distance > allowed) continue;
    // Among equally near words a wrong letter is likelier than one left out: the one of like length wins.
    const rank = distance + Math.abs(plainWord.length - plainCandidate.length) / LONGEST_WORD;
    if (rank < nearestRank) {
      nearest = candidate;
      nearestRank = rank;
    }
  }
  return nearest;
}

/** `Did you mean "…"?` or undefined; ready for the hint of a problem. */
export function didYouMean(word: string, candidates: Iterable<string>): string | undefined {
  const nearest = nearestName(word, candidates);
  return nearest === undefined ? undefined : `Did you mean "${nearest}"?`;
}

function plain(word: string): string {
  return word.toLowerCase().replace(/[\s_-]+/g, "");
}
