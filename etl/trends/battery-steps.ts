/**
 * Exchanges of a battery that the voltage shows: days on which an engine's log sag ratio fell from one line to another.
 *
 * For: a battery that somebody replaced on the road and nobody wrote down. A new one has less resistance, so the ratio
 * falls at once to where it was years ago. Weekly medians are cut into lines (`changePoints`), so that wear, which
 * climbs, is no step; the day is then found among the daily values around the cut. Each logger and rate band is looked
 * at alone: a change of logger is no exchange. The cold is taken out by the battery's own rule, not by the fleet's
 * fit, which needs the lives that this helps to find.
 * Within six weeks of the ends of a record only the fall of a worn part is believed. Says nothing of a worn part
 * exchanged for another, or of one that failed with no wear before. A jump up (a better starter loop) is not looked
 * for: voltage alone does not tell a new starter from clean cables.
 */
import type { BatteryStep } from '../model/battery-step.ts';
import { changePoints } from '../stats/change-point.ts';
import { median } from '../stats/quantile.ts';
import type { DailyMedians } from './daily-medians.ts';
import { sagAtReference } from './sag-in-the-cold.ts';
import { weeklyMedians } from './weekly-medians.ts';

/** Weeks a level must last. Convention of this program. */
const LEAST_WEEKS = 6;
/** Scatter of weekly medians below which nothing is believed: 1 % of the ratio, some sensor steps. */
const VARIANCE_FLOOR = 0.01 ** 2;
/** Smallest fall: e^0.25 is 28 % of resistance; a worn part has 1.5 to 2 times that of a new one (from memory). */
const LEAST_FALL = 0.25;
/** Days on either side that a fall's size is taken from, and within which its day is looked for. */
const BESIDE_DAYS = 21;
const LEAST_DAYS_BESIDE = 5;
const LEAST_DAYS_AT_ENDS = 7;
/** Days from an end around which a fall is looked for, ten on either side of each. */
const FROM_ENDS = [10, 20, 30];
/** A worn part has 1.5 times the resistance of a new one (from memory). */
const WORN_OUT = -Math.log(1.5);
/** A fall in so many scatters of daily values. Convention of this program. */
const LEAST_SCATTERS = 3;
/**
 * The sag while the engine rolls must fall by so much of the fall in the inrush: both lie over the battery's
 * resistance. A slower logger misses the bottom of the inrush alone, and would pass for a new battery. Convention of
 * this program.
 */
const ROLLING_SHARE = 0.4;
/**
 * A rest level that rises with the fall by more is a bank charged again, as after a new alternator, not a new bank: a
 * quarter of the charge is 0.2 V in 12 (TM 5-3805-262-20, state of charge).
 */
const CHARGED_AGAIN = Math.log(1 + 0.2 / 12);

type Run = { day: Int32Array; value: Float64Array };

/** In order of time; none where the logs give no sag ratio. */
export function batterySteps(daily: DailyMedians): BatteryStep[] {
  return runsOf(daily).flatMap((run) => {
    const inside = stepsInside(daily, run);
    const atEnds = stepsAtEnds(daily, run).filter((end) =>
      inside.every(({ day }) => Math.abs(day - end.day) > BESIDE_DAYS),
    );
    return [...inside, ...atEnds].sort((a, b) => a.day - b.day);
  });
}

function stepsInside(daily: DailyMedians, run: Run): BatteryStep[] {
  const weekly = weeklyMedians(run.day, run.value);
  if (weekly.value.length < 2 * LEAST_WEEKS || !falls(weekly.value)) return [];
  const segments = changePoints(weekly.day, weekly.value, {
    varianceFloor: VARIANCE_FLOOR,
    minSegment: LEAST_WEEKS,
    model: 'line',
  });
  return segments.slice(1).flatMap((after, index) => {
    const before = segments[index]!;
    if (after.first - before.last > -LEAST_FALL) return [];
    const cut = (weekly.day[before.to - 1]! + weekly.day[after.from]!) / 2;
    return stepNear(daily, run, { cut, least: LEAST_DAYS_BESIDE });
  });
}

/**
 * Within six weeks of an end a level has not lasted long enough to be told from a spell of weather; a fall as large as
 * that of a worn part needs no more than a week of days on either side.
 */
function stepsAtEnds(daily: DailyMedians, run: Run): BatteryStep[] {
  const [first, last] = [run.day[0], run.day.at(-1)];
  if (first === undefined || last === undefined || last - first < 7 * LEAST_WEEKS) return [];
  const within = 7 * LEAST_WEEKS + BESIDE_DAYS;
  const begun = run.day.findIndex((day) => day > first + within);
  const ending = run.day.findIndex((day) => day >= last - within);
  const steps = [
    ...FROM_ENDS.map((days) => ({ part: partOf(run, 0, begun < 0 ? run.day.length : begun), cut: first + days })),
    ...FROM_ENDS.map((days) => ({ part: partOf(run, ending, run.day.length), cut: last - days })),
  ]
    .filter(({ part, cut }) => fallsAt(part, cut))
    .flatMap(({ part, cut }) => stepNear(daily, part, { cut, least: LEAST_DAYS_AT_ENDS }));
  const worn = steps.filter(({ size }) => size <= WORN_OUT);
  return worn.filter(({ day }, index) => worn.findIndex((each) => Math.abs(each.day - day) <= BESIDE_DAYS) === index);
}

/** A cheap look, so that most engines need no search: a worn part's fall within ten days lowers the mean by half of it. */
function fallsAt(run: Run, cut: number): boolean {
  const meanOf = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return meanOf(beside(run, cut, cut + 11)) - meanOf(beside(run, cut - 10, cut)) <= WORN_OUT / 3;
}

function partOf({ day, value }: Run, from: number, to: number): Run {
  return { day: day.subarray(from, to), value: value.subarray(from, to) };
}

/** The days of each stratum, corrected to the reference temperature. */
function runsOf({ day, stratum, tempC, values }: DailyMedians): Run[] {
  const sag = values.log_sag_ratio;
  if (sag === undefined) return [];
  const rowsOf = new Map<number, number[]>();
  for (let row = 0; row < day.length; row++) {
    if (Number.isNaN(sag[row]!)) continue;
    const rows = rowsOf.get(stratum[row]!);
    if (rows === undefined) rowsOf.set(stratum[row]!, [row]);
    else rows.push(row);
  }
  return [...rowsOf.values()].map((rows) => ({
    day: Int32Array.from(rows, (row) => day[row]!),
    value: Float64Array.from(rows, (row) => sagAtReference(sag[row]!, tempC[row]!)),
  }));
}

/** A cheap look, so that most engines need no search: somewhere three weeks lie below the three before. */
function falls(weekly: Float64Array): boolean {
  const mean = (at: number) => (weekly[at]! + weekly[at + 1]! + weekly[at + 2]!) / 3;
  for (let at = 0; at + 6 <= weekly.length; at++) if (mean(at + 3) - mean(at) <= -0.8 * LEAST_FALL) return true;
  return false;
}

function stepNear(daily: DailyMedians, run: Run, at: { cut: number; least: number }): BatteryStep[] {
  const { cut, least } = at;
  const day = dayOfFall(run, cut);
  const [old, young] = [beside(run, day - BESIDE_DAYS, day), beside(run, day, day + BESIDE_DAYS)];
  if (old.length < least || young.length < least) return [];
  const size = median(young) - median(old);
  const scatter = 1.4826 * median(Float64Array.from([...apart(old), ...apart(young)]));
  if (size > -LEAST_FALL || size > -LEAST_SCATTERS * scatter) return [];
  const { crank_volts: rolling, rest_volts: overnight } = daily.values;
  const rollingSag = (row: number) =>
    Math.log((daily.restAtCrank[row]! - (rolling?.[row] ?? Number.NaN)) / (rolling?.[row] ?? Number.NaN));
  const better = changeOver(daily.day, day, rollingSag) <= ROLLING_SHARE * size;
  const chargedAgain = changeOver(daily.day, day, (row) => Math.log(overnight?.[row] ?? Number.NaN)) >= CHARGED_AGAIN;
  return better && !chargedAgain ? [{ day, size }] : [];
}

function beside({ day, value }: Run, from: number, to: number): Float64Array {
  return value.filter((_, row) => day[row]! >= from && day[row]! < to);
}

function apart(values: Float64Array): Float64Array {
  const middle = median(values);
  return values.map((value) => Math.abs(value - middle));
}

/** The day that parts the values around a cut into two levels with the least absolute residuals. */
function dayOfFall(run: Run, near: number): number {
  let best = { day: near, residual: Infinity };
  const around = run.day.filter((day) => Math.abs(day - near) <= BESIDE_DAYS / 2);
  for (const day of around) {
    const sides = [beside(run, near - BESIDE_DAYS, day), beside(run, day, near + BESIDE_DAYS)];
    if (sides.some((side) => side.length < 3)) continue;
    const residual = sides.reduce((sum, side) => sum + apart(side).reduce((a, b) => a + b, 0), 0);
    if (residual < best.residual) best = { day, residual };
  }
  return Math.round(best.day);
}

/** Change of a value's median over a day; NaN where too few days speak of it, which is neither more nor less. */
function changeOver(day: Int32Array, at: number, valueOf: (row: number) => number): number {
  const side = (from: number, to: number) => {
    const values: number[] = [];
    day.forEach((each, row) => {
      if (each >= from && each < to && Number.isFinite(valueOf(row))) values.push(valueOf(row));
    });
    return values.length < LEAST_DAYS_BESIDE ? Number.NaN : median(values);
  };
  return side(at, at + BESIDE_DAYS) - side(at - BESIDE_DAYS, at);
}
