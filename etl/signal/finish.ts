import { emptyTable, FINISHED_COLUMNS, MEASURED_COLUMNS, type FinishedTable } from '../model/crank.ts';
import type { Unit } from '../model/unit.ts';
import { NOT_CRANKS, PATTERNS, qualityBit, QUALITY_WORDS, type QualityWord } from '../model/words.ts';
import type { MeasuredSource } from '../store/store.ts';
import { bestOfEach, type MeasuredAt } from './same-crank.ts';
import { COMPRESSION_THRESHOLDS as C } from './compression-thresholds.ts';
import { crankSpeed, isTooSlow, rpmOfRipple } from './crank-speed.ts';
import { patternOf } from './pattern.ts';
import { fillSuspects } from './suspect.ts';
import { THRESHOLDS as T } from './thresholds.ts';

const UNCOUNTED: ReadonlySet<number> = new Set(NOT_CRANKS.map((word) => PATTERNS.indexOf(word)));

/**
 * From what the files of one engine hold to the cranks that count, in time order: the best of several loggers and
 * files, speed by the unit's cylinders, pattern, sag ratio, the component at fault, and which cranks are one start. Pure: depends on the set of
 * sources and the register's row alone. Without a row (`unit` null) what needs it stays missing.
 */
export function finishCranks(sources: readonly MeasuredSource[], unit: Unit | null): FinishedTable {
  const chosen = bestOfEach(sources);
  const table = copied(chosen);
  for (let index = 0; index < table.count; index++) finishRow(table, index, unit);
  fillSuspects(table, unit);
  for (let index = 0; index < table.count; index++) withoutMissedDip(table, index);
  groupStarts(table);
  return table;
}

/** Column by column, so that each is looked up once. */
function copied(chosen: readonly MeasuredAt[]): FinishedTable {
  const table = emptyTable(FINISHED_COLUMNS, chosen.length);
  for (const name of MEASURED_COLUMNS) {
    const into = table.columns[name];
    for (const [index, { source, row }] of chosen.entries()) into[index] = source.table.columns[name][row]!;
  }
  for (const [index, { source }] of chosen.entries()) table.columns.importId[index] = source.importId;
  return table;
}

function finishRow({ columns }: FinishedTable, index: number, unit: Unit | null): void {
  const words = new Set<QualityWord>();
  const speed = crankSpeed(columns, index, unit);
  columns.crankRpm[index] = speed.rpm;
  if (speed.why !== null) words.add(speed.why);
  if (unit !== null && isTooSlow(columns.rateHz[index]!, unit)) {
    columns.rippleHz[index] = columns.rippleOtherHz[index] = Number.NaN;
    words.add('rate_too_low');
  }
  if (unit !== null && !isCompressionSeen(columns, index, unit)) columns.relativeCompression[index] = Number.NaN;
  const [rest, dip] = [columns.restVolts[index]!, columns.dipVolts[index]!];
  if (dip > 0) columns.sagRatio[index] = (rest - dip) / dip;
  if (unit !== null && differs(rest, unit.systemVolts)) words.add('system_volts_differ');
  columns.pattern[index] = patternOf(columns, index, unit);
  columns.quality[index] = withWords(columns.quality[index]!, words);
}

/**
 * Without the register compressions that are all alike may be too few to have met every cylinder twice, and a ripple that
 * turned out to be half or double the true one counts the wrong ones.
 */
function isCompressionSeen(columns: FinishedTable['columns'], index: number, { cylinders }: Unit): boolean {
  const hz = columns.rippleHz[index]!;
  const isOwnRipple = Math.abs(rpmOfRipple(hz, cylinders) / columns.crankRpm[index]! - 1) < 1e-6;
  const compressions = hz * (columns.crankSeconds[index]! - T.rollingLatestSeconds);
  return isOwnRipple && (columns.relativeCompression[index]! < C.unevenBelow || compressions >= C.cycles * cylinders);
}

/** Of the dip between a low rate's samples only an upper end is known: it has helped to judge and is no answer. */
function withoutMissedDip({ columns }: FinishedTable, index: number): void {
  if (!(columns.rateHz[index]! < T.dipLeastHz)) return;
  for (const name of ['dipVolts', 'sagRatio', 'loopOhms'] as const) columns[name][index] = Number.NaN;
}

/** The register says 24 V and the log reads 12 V, or the other way round. */
function differs(restVolts: number, systemVolts: 12 | 24): boolean {
  return !Number.isNaN(restVolts) && restVolts > T.system24Volts !== (systemVolts === 24);
}

function withWords(bits: number, words: ReadonlySet<QualityWord>): number {
  const has = (word: QualityWord) => Math.floor(bits / qualityBit(word)) % 2 === 1;
  return QUALITY_WORDS.reduce((sum, word) => (words.has(word) && !has(word) ? sum + qualityBit(word) : sum), bits);
}

/** A start: cranks with at most 60 s from one release to the next onset. What is no crank stands alone. */
function groupStarts({ count, columns }: FinishedTable): void {
  let startUs = Number.NaN;
  let releaseUs = -Infinity;
  for (let i = 0; i < count; i++) {
    const timeUs = columns.timeUs[i]!;
    if (UNCOUNTED.has(columns.pattern[i]!)) {
      columns.startUs[i] = timeUs;
      continue;
    }
    if (timeUs - releaseUs > T.startGapSeconds * 1e6) startUs = timeUs;
    columns.startUs[i] = startUs;
    const seconds = columns.crankSeconds[i]!;
    releaseUs = timeUs + (Number.isNaN(seconds) ? 0 : seconds * 1e6);
  }
}
