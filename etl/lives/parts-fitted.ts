import { isBare } from './carry-over.ts';
import { wordCount } from './filling-words.ts';
import type { ClauseReading } from './read-clause.ts';
import { FAULT_WORDS } from './vocabulary.ts';

/** A number of pieces: "2 batteries", "battery x 4", "1 ea starter". */
const COUNTED = /(?<!\S)(?:[1-9]|x ?[1-9]|[1-9]x|qty ?[1-9])(?!\S)/;
/** A reading off a meter, no number of pieces. */
const MEASURED = /\b\d+ (?:v|volts?|a|amps?|percent|cca)\b|\b\d{2,}(?! ?(?:v|a|ah|cca)\b)\b|\bvolt/;

const COMPLAINT = /\b(?:light|lamp|warning|problem|drag\w*|charging)\b/;

type Reading = { clause: string; reading: ClauseReading; weight: number; faulty: boolean };

/**
 * "no crank | | starter": a correction that does nothing but name parts names those that were fitted, if something was
 * wrong or if it counts them. A state, a finding or a verb anywhere in it says something else.
 */
export function takePartsAsFitted(readings: readonly Reading[]): void {
  const corrected = readings.filter(({ weight }) => weight === 3);
  if (corrected.some(({ clause, reading }) => saysMore(clause, reading))) return;
  const wrong = readings.some(
    ({ clause, reading, weight, faulty }) => weight < 3 && (faulty || isStuck(reading) || COMPLAINT.test(clause)),
  );
  for (const { clause, reading } of corrected)
    if (reading.components.length > 0 && isBare(clause, reading) && (wrong || COUNTED.test(clause)))
      reading.action = { event: 'replaced', words: COUNTED.exec(clause)?.[0] ?? '' };
}

function saysMore(clause: string, reading: ClauseReading): boolean {
  const said = reading.action ?? reading.cleared;
  if (reading.components.length === 0 && wordCount(clause) > 3) return true;
  return said !== null || isStuck(reading) || FAULT_WORDS.test(clause) || MEASURED.test(clause);
}

function isStuck({ noStart, jumpStart, flatBattery }: ClauseReading): boolean {
  return (noStart ?? jumpStart ?? flatBattery) !== null;
}
