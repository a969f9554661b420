/**
 * A survival curve under what the fleet's past says of its forecasts: every piece's hazard times its factor, averaged
 * over what the fit leaves uncertain (Gauss–Hermite over the log of the factor at the middle of three months). The factor
 * is never negative and works on the hazard, so that a curve never rises. A share of failures comes without warning:
 * the hazard never falls below that share of what age alone expects.
 */
import { SURVIVAL_DAYS } from '../model/outlook.ts';
import type { Indicator } from '../model/words.ts';
import { indicatorOf, seasonAt } from './hazard-features.ts';
import {
  columnAhead,
  columnValue,
  fadedBy,
  isConditionColumn,
  type HazardModel,
  type HazardRow,
} from './hazard-model.ts';
import { FOLLOWED_DAYS } from './landmarks.ts';

export type HazardCase = Pick<HazardRow, 'day' | 'class' | 'ageDays' | 'condition' | 'troubles'> & {
  yearsAgo?: number;
};
/** S(t) by age alone, and the share of its hazard that no condition takes away. */
export type Floor = { aged: Float64Array; suddenShare: number };

/** Nodes and weights of ∫ f(z) φ(z) dz, exact to degree 9 (Abramowitz & Stegun 25.4.46, scaled). */
const NODES = [-2.856970013872806, -1.355626179974266, 0, 1.355626179974266, 2.856970013872806];
const WEIGHTS = [0.011257411327721, 0.222075922005613, 0.533333333333333, 0.222075922005613, 0.011257411327721];

type Forecasting = { of: HazardCase; floor?: Floor; days?: readonly number[] };

/** `survival` and `floor` at `days`. */
export function hazardForecast(
  survival: Float64Array,
  model: HazardModel | null,
  { of, floor, days = SURVIVAL_DAYS }: Forecasting,
): Float64Array {
  if (model === null) return survival;
  const row = { yearsAgo: 0, ...of, expected: [-logOf(survival[days.indexOf(FOLLOWED_DAYS)]!)] };
  const values = model.columns.map((column) => columnValue(column, row));
  const factor = logFactor(model, values);
  const level = model.columns.find(({ name }) => name === 'level')!.coefficient;
  const hazard = new Float64Array(survival.length);
  for (let k = 1; k < survival.length; k++) {
    const ahead = (days[k - 1]! + days[k]!) / 2;
    const piece = logOf(survival[k - 1]!) - logOf(survival[k]!);
    const sudden = floor === undefined ? 0 : floor.suddenShare * (logOf(floor.aged[k - 1]!) - logOf(floor.aged[k]!));
    hazard[k] = hazard[k - 1]! + Math.max(sudden * Math.exp(level), piece * Math.exp(factor(of.day, ahead)));
  }
  return averaged(hazard, spreadOf(model, values, of.day));
}

function logOf(value: number): number {
  return Math.log(Math.max(value, 1e-300));
}

/** Log of the factor on the hazard in the weeks about a time ahead. */
function logFactor({ columns }: HazardModel, values: readonly number[]) {
  let [always, condition, sine, cosine] = [0, 0, 0, 0];
  columns.forEach(({ name, coefficient }, j) => {
    if (name === 'sine') sine = coefficient;
    else if (name === 'cosine') cosine = coefficient;
    else if (isConditionColumn(name)) condition += coefficient * values[j]!;
    else always += coefficient * values[j]!;
  });
  return (day: number, ahead: number) => {
    const season = seasonAt(day + ahead);
    return always + condition * fadedBy(ahead) + sine * season.sine + cosine * season.cosine;
  };
}

/** Standard deviation that the fit leaves to the log of the factor, at the middle of the time that it was learnt over. */
function spreadOf({ columns, covariance }: HazardModel, values: readonly number[], day: number): number {
  const at = { day, daysAhead: FOLLOWED_DAYS / 2 };
  const x = columns.map(({ name }, j) => columnAhead(name, values[j]!, at));
  let variance = 0;
  x.forEach((own, j) => {
    if (own !== 0) x.forEach((other, k) => (variance += own * other * covariance[j * x.length + k]!));
  });
  return Math.sqrt(Math.max(0, variance));
}

function averaged(hazard: Float64Array, spread: number): Float64Array {
  const factors = NODES.map((node) => Math.exp(spread * node));
  return hazard.map((value) => factors.reduce((sum, each, k) => sum + WEIGHTS[k]! * Math.exp(-value * each), 0));
}

/** What each indicator adds to the log of the hazard now, in its own columns. */
export function contributions(model: HazardModel, of: HazardCase): Partial<Record<Indicator, number>> {
  const sums: Partial<Record<Indicator, number>> = {};
  for (const column of model.columns) {
    const indicator = indicatorOf(column.name);
    if (indicator === null) continue;
    sums[indicator] =
      (sums[indicator] ?? 0) + column.coefficient * columnValue(column, { ...of, yearsAgo: 0, expected: [1] });
  }
  return sums;
}
