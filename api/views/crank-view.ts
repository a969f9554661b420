import type { CrankRow } from '../contract/crank.ts';
import type { FinishedColumn, FinishedTable } from '../../etl/model/crank.ts';
import { orNull } from '../../etl/model/missing.ts';
import { isoInstant } from '../../etl/model/time.ts';
import type { Engine } from '../../etl/model/unit.ts';
import { NOT_CRANKS, OUTCOMES, PATTERNS, qualityWords, SOURCES, SUSPECTS } from '../../etl/model/words.ts';
import { ProblemError } from '../problem-error.ts';

/** `<engine>-<onset in µs>`: names one crank within a store. */
export type CrankId = { engineId: number; crankUs: number };

export function crankId(engine: Engine, crankUs: number): string {
  return `${engine.engineId}-${crankUs}`;
}

export function readCrankId(text: string): CrankId {
  const [, engineId, crankUs] = /^(\d{1,15})-(-?\d{1,16})$/.exec(text) ?? [];
  if (engineId === undefined || crankUs === undefined)
    throw new ProblemError(
      404,
      `crank id requires ENGINE-MICROSECONDS, got ${text}`,
      'Take the id from the list of the unit’s cranks.',
    );
  return { engineId: Number(engineId), crankUs: Number(crankUs) };
}

/** A finished crank as a row: words for indexes, null for NaN. */
export function crankRow(
  engine: Engine,
  table: FinishedTable,
  at: { index: number; fileOf: Map<number, string>; evidence?: readonly string[] },
): CrankRow {
  const { index, fileOf } = at;
  const value = (name: FinishedColumn) => orNull(table.columns[name][index]!);
  const word = <Word extends string>(name: FinishedColumn, words: readonly Word[]): Word | null =>
    words[table.columns[name][index]!] ?? null;
  const startUs = value('startUs');
  return {
    id: crankId(engine, table.columns.timeUs[index]!),
    unit: engine.unit,
    position: engine.position,
    at: isoInstant(table.columns.timeUs[index]!),
    timeUs: table.columns.timeUs[index]!,
    source: word('source', SOURCES) ?? 'cranks',
    restVolts: value('restVolts'),
    dipVolts: value('dipVolts'),
    crankVolts: value('crankVolts'),
    chargeVolts: value('chargeVolts'),
    crankSeconds: value('crankSeconds'),
    crankRpm: value('crankRpm'),
    rippleHz: value('rippleHz'),
    sagRatio: value('sagRatio'),
    ampsPeak: value('ampsPeak'),
    tempC: value('tempC'),
    dropouts: value('dropouts'),
    dropoutSeconds: value('dropoutSeconds'),
    pattern: word('pattern', PATTERNS),
    suspect: word('suspect', SUSPECTS),
    outcome: word('outcome', OUTCOMES),
    startId: startUs === null ? null : isoInstant(startUs),
    quality: qualityWords(value('quality') ?? 0),
    file: fileOf.get(table.columns.importId[index]!) ?? '',
    line: value('line'),
    relativeCompression: value('relativeCompression'),
    evidence: [...(at.evidence ?? [])],
  };
}

type Span = { fromUs: number; toUs: number; fileOf: Map<number, string>; evidence?: readonly (readonly string[])[] };

/** Rows from `fromUs` to `toUs`, both included; `evidence` by row of the table, where it is wanted. */
export function crankRows(engine: Engine, table: FinishedTable, { fromUs, toUs, fileOf, evidence }: Span): CrankRow[] {
  const rows: CrankRow[] = [];
  for (let index = 0; index < table.count; index++) {
    const timeUs = table.columns.timeUs[index]!;
    if (timeUs >= fromUs && timeUs <= toUs)
      rows.push(crankRow(engine, table, { index, fileOf, evidence: evidence?.[index] ?? [] }));
  }
  return rows;
}

/** Whether a row of the table is counted as a crank: heater loads, silence and the unreadable are not. */
export function isCounted(table: FinishedTable, index: number): boolean {
  const pattern = PATTERNS[table.columns.pattern[index]!];
  return pattern === undefined || !NOT_CRANKS.includes(pattern);
}
