import type { ClauseReading } from './read-clause.ts';

/** What was done did not help. */
export const NOT_CURED =
  /\b(?:no fix|no (?:change|better|help|difference|improvement)|(?:did not|didnt|does not|doesnt) (?:fix|cure|help|solve|change)\w*|same (?:fault|problem|issue|complaint)|still (?:same|dead|slow|clicks|clicking|no start|no crank|(?:wont|will not|would not|wouldnt|not|does not|doesnt|cranks?|turns?)\b))/;

type Reading = { clause: string; reading: ClauseReading; weight: number };

/**
 * "Changed batteries, no change. Replaced starter": the part that a record says did not help stays an exchange, and the
 * words that say so stand with it. Only where another part is named after it, which did.
 */
export function markNotCured(readings: readonly Reading[]): void {
  const inTime = readings.toSorted((a, b) => a.weight - b.weight);
  inTime.forEach(({ clause }, index) => {
    const words = NOT_CURED.exec(clause)?.[0];
    const tried = inTime.slice(0, index + 1).findLast(({ reading }) => isExchange(reading))?.reading;
    if (words === undefined || tried === undefined) return;
    const cured = inTime.slice(index + 1).some(({ reading }) => isExchange(reading) && isAnother(reading, tried));
    if (cured) tried.action = { ...tried.action!, words: `${tried.action!.words}; ${words}` };
  });
}

function isExchange({ components, action, cleared }: ClauseReading): boolean {
  return components.length > 0 && cleared === null && (action?.event === 'replaced' || action?.event === 'repaired');
}

function isAnother({ components }: ClauseReading, tried: ClauseReading): boolean {
  return components.some(({ component }) => tried.components.every((each) => each.component !== component));
}
