import { dateFromDay, quarterOf } from './calendar.ts';
import { crankLine } from './crank-rows.ts';
import type { Crank } from './crank.ts';
import { gatewayRow } from './logger.ts';
import { createRandom } from './random.ts';
import type { Random } from './random.ts';
import { inSpell, loggerOn } from './unit-plan.ts';
import type { UnitPlan } from './unit-plan.ts';
import { waveformLines } from './waveform-rows.ts';
import { sampleWaveform } from './waveform.ts';

/** What a unit's logger has written: event rows by quarter, waveform rows in one run. */
export type UnitLog = {
  quarters: Map<string, string[]>;
  samples: string[];
  cranks: number;
  waveforms: number;
  take(crank: Crank): void;
};

export type LogOf = { plan: UnitPlan; seed: number; firstDay: number; lastDay: number; waveformShare: number };

/** Of the cranks in a unit's first and last fortnight and of those that failed, this share is recorded on top. */
const EDGE_SHARE = 0.035;
const FAILED_SHARE = 0.35;
const EDGE_DAYS = 14;
/** Only about a third of the units carry a recorder; theirs is the share of all. */
const RECORDER_SHARE = 0.38;

export function createUnitLog(of: LogOf): UnitLog {
  const random = createRandom(of.seed, of.plan.index, 'logger');
  const lastTimes = new Map<string, number>();
  const log: UnitLog = {
    quarters: new Map(),
    samples: [],
    cranks: 0,
    waveforms: 0,
    take: (crank) => {
      if (inSpell(of.plan.silent, crank.day)) return;
      const tenth = Math.round((crank.day * 86_400 + crank.secondOfDay) * 10);
      if (tenth <= (lastTimes.get('') ?? 0)) return; // two engines within a tenth of a second: the gateway keeps one
      lastTimes.set('', tenth);
      takeRow(log, crank, { of, random });
      if (recorded(crank, of, random)) takeWaveform(log, crank, { of, random });
    },
  };
  return log;
}

type Taking = { of: LogOf; random: Random };

function takeRow(log: UnitLog, crank: Crank, { of, random }: Taking): void {
  const logger = loggerOn(of.plan, crank.day);
  const quarter = quarterOf(crank.day);
  const style = { unit: of.plan.unit, voltDecimals: 2, temperature: of.plan.logsTemperature, outcome: logger.outcome };
  const lines = log.quarters.get(quarter) ?? [];
  if (lines.length === 0) log.quarters.set(quarter, lines);
  lines.push(crankLine(crank, gatewayRow(crank, logger, random), style));
  log.cranks += 1;
}

function recorded(crank: Crank, of: LogOf, random: Random): boolean {
  if (!of.plan.recordsWaveforms || of.waveformShare === 0) return false;
  const atEdge = crank.day - of.firstDay < EDGE_DAYS || of.lastDay - crank.day < EDGE_DAYS;
  const share = of.waveformShare / RECORDER_SHARE + (atEdge ? EDGE_SHARE : 0) + (crank.started ? 0 : FAILED_SHARE);
  return random.chance(share);
}

function takeWaveform(log: UnitLog, crank: Crank, { of, random }: Taking): void {
  const logger = loggerOn(of.plan, crank.day);
  log.waveforms += 1;
  const record = `${dateFromDay(crank.day).replaceAll('-', '')}-${log.waveforms}`;
  const wave = sampleWaveform(crank, logger, random);
  for (const line of waveformLines(crank, wave, {
    unit: of.plan.unit,
    record,
    logger,
    temperature: of.plan.logsTemperature,
  }))
    log.samples.push(line);
}
