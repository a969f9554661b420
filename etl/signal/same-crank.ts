import type { MeasuredSource } from '../store/store.ts';
import { qualityBit, SOURCES } from '../model/words.ts';
import { THRESHOLDS as T } from './thresholds.ts';

/** A measured row by where it stands. */
export type MeasuredAt = { source: MeasuredSource; row: number };

const BEGUN_BEFORE = qualityBit('begun_before_record');
const ENDED_AFTER = qualityBit('ended_after_record');
const WAVEFORM = SOURCES.indexOf('waveform');

/**
 * One row per crank, in time order. Rows of different files whose onsets lie within 2 s and that overlap in time are
 * one crank: the higher rate wins, then the one that its record holds whole, then the file with the greater hash. Two
 * rows of one file are one crank at the same instant, and where two captures saw it or a record was cut inside it. Does
 * not depend on the order of the sources.
 */
export function bestOfEach(sources: readonly MeasuredSource[]): MeasuredAt[] {
  const rows = sources
    .flatMap((source) => Array.from({ length: source.table.count }, (_, row) => ({ source, row })))
    .sort(byTime);
  const chosen: MeasuredAt[] = [];
  for (const next of rows) {
    const at = lastSame(chosen, next);
    if (at < 0) chosen.push(next);
    else if (outranks(next, chosen[at]!)) chosen[at] = next;
  }
  return chosen.sort(byTime);
}

/** Files of one crank stand side by side: looking three back keeps this linear. */
function lastSame(chosen: readonly MeasuredAt[], next: MeasuredAt): number {
  const last = Math.max(0, chosen.length - 3);
  for (let at = chosen.length - 1; at >= last; at--) if (isSame(chosen[at]!, next)) return at;
  return -1;
}

const timeOf = ({ source, row }: MeasuredAt) => source.table.columns.timeUs[row]!;
const text = (a: string, b: string) => Number(a > b) - Number(a < b);

function byTime(a: MeasuredAt, b: MeasuredAt): number {
  const line = ({ source, row }: MeasuredAt) => source.table.columns.line[row]!;
  return timeOf(a) - timeOf(b) || text(a.source.sha256, b.source.sha256) || line(a) - line(b);
}

function isSame(a: MeasuredAt, b: MeasuredAt): boolean {
  const apart = timeOf(b) - timeOf(a);
  if (a.source.importId === b.source.importId) return apart === 0 || (isNear(apart) && isSeenTwice(a, b, apart));
  const seconds = a.source.table.columns.crankSeconds[a.row]!;
  const overlapUs = (Number.isNaN(seconds) ? T.sameCrankSeconds : Math.max(seconds, 0.5)) * 1e6;
  return isNear(apart) && apart <= overlapUs;
}

const isNear = (apartUs: number) => apartUs <= T.sameCrankSeconds * 1e6;

/**
 * One capture never has a crank within a crank; what a gateway sums up, its times rounded, may. A clock that was set
 * leaves the end of a crank in one record and the rest in the next.
 */
function isSeenTwice(a: MeasuredAt, b: MeasuredAt, apartUs: number): boolean {
  if (![a, b].every(({ source, row }) => source.table.columns.source[row] === WAVEFORM)) return false;
  const seconds = a.source.table.columns.crankSeconds[a.row]!;
  if (!Number.isNaN(seconds)) return apartUs < seconds * 1e6;
  return has(a, ENDED_AFTER) && has(b, BEGUN_BEFORE);
}

function has({ source, row }: MeasuredAt, bit: number): boolean {
  return Math.floor(source.table.columns.quality[row]! / bit) % 2 === 1;
}

function outranks(a: MeasuredAt, b: MeasuredAt): boolean {
  const rate = ({ source, row }: MeasuredAt) => {
    const hz = source.table.columns.rateHz[row]!;
    return Number.isNaN(hz) ? 0 : hz;
  };
  // Two records of one logger differ in rate by rounding only.
  const [own, other] = [rate(a), rate(b)];
  if (Math.abs(own - other) > 0.1 * Math.max(own, other)) return own > other;
  const cut = (each: MeasuredAt) => [BEGUN_BEFORE, ENDED_AFTER].filter((bit) => has(each, bit)).length;
  return cut(b) - cut(a) > 0 || (cut(a) === cut(b) && a.source.sha256 > b.source.sha256);
}
