/** What comes first in words that were run together: `newcable`, `starterrelay`. */
const FIRST =
  'battery batteries batt starter startr start strtr alternator alt ground earth ignition neutral solenoid relay jump new no not bad dead flat slow wont the'.split(
    ' ',
  );

const SECOND =
  'battery batteries batterys batts starter start starts startr alternator cable cables lead leads relay switch motor moter solenoid terminal terminals clamp clamps strap box dead flat bad low weak ok good unserviceable replaced changed renewed fitted installed exchanged checked tested charged cleaned swapped repaired crank cranking turn belt'.split(
    ' ',
  );

/** Words that only look run together. */
const ONE_WORD = new Set(['nobody', 'noted', 'notice', 'startup', 'theft', 'starts', 'newton']);

const TWO_WORDS = new Map(
  FIRST.flatMap((first) =>
    SECOND.filter((second) => second !== first).map((second) => [first + second, `${first} ${second}`] as const),
  ),
);

/** `startermotor` → `starter motor`; null where a word is one word. */
export function unfused(word: string): string | null {
  return word.length < 6 || ONE_WORD.has(word) ? null : (TWO_WORDS.get(word) ?? null);
}
