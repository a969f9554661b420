/**
 * What the fleet's own past says of its forecasts: a hazard in steps of four weeks on top of life model and wear.
 *
 * Looking back from every landmark (`landmarks.ts`), the hazard of each of the weeks that followed is
 *   λ · e^(level + steepness·log H + season + class + age + condition·e^(−ahead/year)),
 * λ the forecast as it stands for those weeks, H what it expects of three months. All coefficients are drawn to 0, the
 * forecast as it is, by a ridge that is chosen by evidence and holds about one free coefficient to five failures, so that
 * a small fleet moves smoothly back to the forecast as it is. Without a failure nothing is changed.
 * A column is used only where it was recorded at most landmarks, early and late: what began to be recorded halfway would
 * pass for a change of the parts. What is not known of one part is the mean of the others, never 0.
 * One failure is seen from several landmarks; together they weigh as one.
 */
import { poissonRidgeFit, type PoissonRidgeFit, type PoissonRows } from '../stats/poisson-ridge.ts';
import { seasonAt } from './hazard-features.ts';
import { FOLLOWED_DAYS, LANDMARK_STEP_DAYS } from './landmarks.ts';

/** A landmark as the fit takes it. */
export type HazardRow = {
  day: number;
  /** Years before the day of the assessment, 0 or less. */
  yearsAgo: number;
  /** Days that it was followed, at most `FOLLOWED_DAYS`, and whether it failed at their end. */
  followedDays: number;
  failed: boolean;
  /** The same without an end at `FOLLOWED_DAYS`, and the forecast's cumulative hazard at `LATER_ENDS` as far as that. */
  watched: { days: number; failed: boolean; expected: readonly number[] };
  weight: number;
  /** Cumulative hazard of the forecast as it stands at `PIECE_ENDS`. */
  expected: readonly number[];
  class: string;
  ageDays: number;
  /** What the condition says, NaN or absent where not known; empty where nothing was seen. */
  condition: Readonly<Partial<Record<string, number>>>;
  troubles: number;
};

export type HazardColumn = { name: string; mean: number; sd: number; coefficient: number };
export type HazardModel = {
  columns: HazardColumn[];
  /** Of the coefficients, row by row. */
  covariance: number[];
  failures: number;
  /** Coefficients that the fleet decides and not the ridge. */
  effective: number;
};

export const PIECE_ENDS = [35, FOLLOWED_DAYS];
const OVERLAP = FOLLOWED_DAYS / LANDMARK_STEP_DAYS;
/** What a condition says fades with the time ahead: convention of this program. */
const FADING_DAYS = 365.25;
const LEAST_HAZARD = 1e-6;
/** About log of the hazard of three ordinary months: there a steeper line changes nothing. */
const USUAL_LOG_HAZARD = -3.6;
/** How far a fleet may be from the forecast as it is (sd). Conventions of this program. */
const LEVEL_SD = 0.7;
const STEEPNESS_SD = 0.3;
const SEASON_SD = 0.8;
/** A year: what one year's dozen failures say of it is mostly chance, and a forecast reads it at its end. */
const DRIFT_SD = 0.3;
const CLASS_SD = 0.3;
const CONDITION_SDS = [0.03, 0.06, 0.12, 0.2];
/** Five to nine are often enough: Vittinghoff & McCulloch 2007 (from memory). */
const EVENTS_PER_COEFFICIENT = 5;
const LEAST_KNOWN = 0.5;
const MOST_CLASSES = 12;
const MOST_SPREADS = 4;
/** A column that is the same for all says nothing. */
const LEAST_SPREAD = 1e-6;

export function fadedBy(daysAhead: number): number {
  return Math.exp(-daysAhead / FADING_DAYS);
}

export function fitHazard(rows: readonly HazardRow[]): HazardModel | null {
  const failures = rows.reduce((sum, { failed, weight }) => sum + (failed ? weight / OVERLAP : 0), 0);
  if (failures === 0) return null;
  const names = usedColumns(rows);
  const columns = names.map((name) => scaled(name, rows)).filter(({ sd }) => sd > LEAST_SPREAD);
  const data = piecesOf(rows, columns);
  const fit = chosenFit(data, columns, failures);
  return {
    columns: columns.map((column, j) => ({ ...column, coefficient: fit.coefficients[j]! })),
    covariance: [...fit.covariance],
    failures,
    effective: fit.effective,
  };
}

/** Fixed columns first, then classes, then what the condition says. */
const FIXED = ['level', 'steepness', 'sine', 'cosine', 'drift', 'age', 'unseen', 'troubles'];
const CLASS = 'class ';

function usedColumns(rows: readonly HazardRow[]): string[] {
  const counts = new Map<string, number>();
  for (const row of rows) counts.set(row.class, (counts.get(row.class) ?? 0) + row.weight);
  const classes = [...counts]
    .sort((a, b) => b[1] - a[1] || Number(a[0] > b[0]) - Number(a[0] < b[0]))
    .slice(0, counts.size < 2 ? 0 : MOST_CLASSES)
    .map(([name]) => CLASS + name);
  const seen = rows.filter(({ condition }) => Object.keys(condition).length > 0).sort((a, b) => a.day - b.day);
  const candidates = [...new Set(seen.flatMap(({ condition }) => Object.keys(condition)))].sort();
  const third = Math.floor(seen.length / 3);
  const parts = [seen.slice(0, third), seen.slice(third, 2 * third), seen.slice(2 * third)];
  const known = candidates.filter((name) =>
    parts.every((part) => part.filter(({ condition }) => isKnown(condition[name])).length >= LEAST_KNOWN * part.length),
  );
  return [...FIXED, ...classes, ...known];
}

function isKnown(value: number | undefined): value is number {
  return value !== undefined && !Number.isNaN(value);
}

/** A row's value of a column before scaling; NaN where not known. Season is a matter of the piece, not of the row. */
function rawValue(name: string, row: Omit<HazardRow, 'followedDays' | 'failed' | 'watched' | 'weight'>): number {
  if (name === 'level') return 1;
  if (name === 'steepness') return Math.log(Math.max(LEAST_HAZARD, row.expected.at(-1)!)) - USUAL_LOG_HAZARD;
  if (name === 'drift') return row.yearsAgo;
  if (name === 'age') return Math.log(Math.max(30, row.ageDays) / 1000);
  if (name === 'unseen') return Number(Object.keys(row.condition).length === 0);
  if (name === 'troubles') return Math.min(3, row.troubles);
  if (name.startsWith(CLASS)) return Number(row.class === name.slice(CLASS.length));
  return row.condition[name] ?? Number.NaN;
}

export function isConditionColumn(name: string): boolean {
  return !FIXED.includes(name) && !name.startsWith(CLASS);
}

function scaled(name: string, rows: readonly HazardRow[]): HazardColumn {
  if (!isConditionColumn(name)) return { name, mean: 0, sd: 1, coefficient: 0 };
  let [total, sum, squares] = [0, 0, 0];
  for (const row of rows) {
    const value = rawValue(name, row);
    if (Number.isNaN(value)) continue;
    total += row.weight;
    sum += row.weight * value;
    squares += row.weight * value * value;
  }
  const mean = sum / total;
  return { name, mean, sd: Math.sqrt(Math.max(0, squares / total - mean * mean)), coefficient: 0 };
}

/** Value of a column for a part, scaled, before fading; 0 where not known. */
export function columnValue({ name, mean, sd }: HazardColumn, row: Parameters<typeof rawValue>[1]): number {
  const value = rawValue(name, row);
  if (!isConditionColumn(name)) return value;
  return Number.isNaN(value) ? 0 : Math.max(-MOST_SPREADS, Math.min(MOST_SPREADS, (value - mean) / sd));
}

/** Value of a column in the weeks about `daysAhead`, from its value for the part. */
export function columnAhead(
  name: string,
  value: number,
  { day, daysAhead }: { day: number; daysAhead: number },
): number {
  if (name === 'sine') return seasonAt(day + daysAhead).sine;
  if (name === 'cosine') return seasonAt(day + daysAhead).cosine;
  return isConditionColumn(name) ? value * fadedBy(daysAhead) : value;
}

function piecesOf(rows: readonly HazardRow[], columns: readonly HazardColumn[]): PoissonRows {
  const pieces: { row: HazardRow; from: number; to: number; expected: number; failed: boolean; values: number[] }[] =
    [];
  for (const row of rows) {
    const values = columns.map((column) => columnValue(column, row));
    PIECE_ENDS.forEach((to, k) => {
      const from = PIECE_ENDS[k - 1] ?? 0;
      if (row.followedDays <= from) return;
      const expected = Math.max(LEAST_HAZARD, row.expected[k]! - (row.expected[k - 1] ?? 0));
      const failed = row.failed && row.followedDays <= to;
      pieces.push({ row, from, to, expected, failed, values });
    });
  }
  const column = (of: (piece: (typeof pieces)[number]) => number) => Float64Array.from(pieces, of);
  return {
    columns: columns.map(({ name }, j) =>
      column(({ row, from, to, values }) =>
        columnAhead(name, values[j]!, { day: row.day, daysAhead: (from + to) / 2 }),
      ),
    ),
    offset: column(({ row, from, to, expected }) =>
      Math.log((expected * (Math.min(to, row.followedDays) - from)) / (to - from)),
    ),
    events: column(({ failed }) => Number(failed)),
    weight: column(({ row }) => row.weight / OVERLAP),
  };
}

/** Of the ridges that hold what the condition may decide to the failures, the one with most evidence. */
function chosenFit(data: PoissonRows, columns: readonly HazardColumn[], failures: number): PoissonRidgeFit {
  let best: PoissonRidgeFit | null = null;
  let start = new Float64Array(columns.length);
  for (const conditionSd of CONDITION_SDS) {
    const sd = columns.map(({ name }) => priorSd(name, conditionSd));
    const fit = poissonRidgeFit(data, sd, start);
    start = Float64Array.from(fit.coefficients);
    const decided = columns.reduce((sum, { name }, j) => sum + (isConditionColumn(name) ? decides(fit, j, sd) : 0), 0);
    const held = decided <= failures / EVENTS_PER_COEFFICIENT;
    if (best === null || (held && fit.logEvidence > best.logEvidence)) best = fit;
  }
  return best!;
}

/** How far the data and not the ridge decide a coefficient, 0 to 1. */
function decides({ covariance }: PoissonRidgeFit, j: number, sd: readonly number[]): number {
  return 1 - covariance[j * sd.length + j]! / sd[j]! ** 2;
}

function priorSd(name: string, conditionSd: number): number {
  if (name === 'level') return LEVEL_SD;
  if (name === 'drift') return DRIFT_SD;
  if (name === 'steepness') return STEEPNESS_SD;
  if (name === 'sine' || name === 'cosine') return SEASON_SD;
  if (name.startsWith(CLASS)) return CLASS_SD;
  return name === 'age' || name === 'unseen' || name === 'troubles' ? CLASS_SD : conditionSd;
}
