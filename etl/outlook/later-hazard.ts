/**
 * What the fleet's own past says of its forecasts beyond the three months over which `hazard-model.ts` learns: windows
 * reach years ahead.
 *
 * Every landmark is followed on, two years at most. The hazard of the quarters after the first is the forecast's times
 *   e^(level + rise·log(H / H₀) + ahead·log(t / t₀)),
 * H what the forecast expects up to then, t the days ahead. A forecast that averages over what nobody sees of a part (its
 * own limit, what the fit leaves open) flattens the longer the part lasts, while the part wears on: `rise` says how much
 * sooner such parts fail. The factor is never negative, so that a curve never rises; beyond what fleets were followed to
 * (`MOST_DAYS`, `MOST_HAZARD`) it stays as it is there. A ridge draws the three to 0, the forecast as it is; the first
 * three months are never changed.
 */
import { SURVIVAL_DAYS } from '../model/outlook.ts';
import { poissonRidgeFit } from '../stats/poisson-ridge.ts';
import { hazardForecast } from './hazard-forecast.ts';
import { PIECE_ENDS, type HazardModel, type HazardRow } from './hazard-model.ts';
import { FOLLOWED_DAYS, LANDMARK_STEP_DAYS } from './landmarks.ts';

/** Ends of the quarters, each with a season of its own. */
export const LATER_ENDS = [182, 273, 364, 455, 546, 637, 728];
const MOST_DAYS = LATER_ENDS.at(-1)!;
/** One failure is seen from so many landmarks; together they weigh as one. */
const OVERLAP = (MOST_DAYS - FOLLOWED_DAYS) / LANDMARK_STEP_DAYS;
/** Where rise and ahead change nothing: a part that fails as likely as not within half a year. Convention of this program. */
const USUAL = { hazard: 0.3, days: 182 };
/** Hazards between which fleets of two years say anything. Convention of this program. */
const [LEAST_HAZARD, MOST_HAZARD] = [0.015, 1];
/** How far a fleet may be from the forecast as it is (sd). Conventions of this program. */
const SPREADS = [1, 1, 0.5];
const LEAST_EXPECTED = 1e-6;

/** Coefficients, 0 where the forecast is right as it is. JSON-able. */
export type LaterHazard = { level: number; rise: number; ahead: number };

type Quarter = { columns: readonly number[]; expected: number; failed: boolean; weight: number };

/** Null where no part was watched longer than the first three months, or none has failed. */
export function fitLaterHazard(rows: readonly HazardRow[], model: HazardModel | null): LaterHazard | null {
  if (model === null) return null;
  const quarters = rows.flatMap((row) => quartersOf(row, model));
  if (quarters.length === 0) return null;
  const column = (of: (quarter: Quarter) => number) => Float64Array.from(quarters, of);
  const { coefficients } = poissonRidgeFit(
    {
      columns: SPREADS.map((_, j) => column(({ columns }) => columns[j]!)),
      offset: column(({ expected }) => Math.log(expected)),
      events: column(({ failed }) => Number(failed)),
      weight: column(({ weight }) => weight / OVERLAP),
    },
    SPREADS,
  );
  return { level: coefficients[0]!, rise: coefficients[1]!, ahead: coefficients[2]! };
}

/** The quarters through which a landmark was watched after its first three months. */
function quartersOf(row: HazardRow, model: HazardModel): Quarter[] {
  const { days, failed, expected } = row.watched;
  if (expected.length === 0) return [];
  const ends = [0, ...PIECE_ENDS, ...LATER_ENDS.slice(0, expected.length)];
  const base = Float64Array.from([0, ...row.expected, ...expected], (hazard) => Math.exp(-hazard));
  const survival = hazardForecast(base, model, { of: row, days: ends });
  return expected.map((_, k) => {
    const right = k + PIECE_ENDS.length + 1;
    const [from, to] = [ends[right - 1]!, ends[right]!];
    const [before, after] = [hazardOf(survival[right - 1]!), hazardOf(survival[right]!)];
    const share = (Math.min(days, to) - from) / (to - from);
    return {
      columns: columnsOf((before + after) / 2, (from + to) / 2),
      expected: Math.max(LEAST_EXPECTED, (after - before) * share),
      failed: failed && days <= to,
      weight: row.weight,
    };
  });
}

function columnsOf(hazard: number, daysAhead: number): number[] {
  const within = Math.min(MOST_HAZARD, Math.max(LEAST_HAZARD, hazard));
  return [1, Math.log(within / USUAL.hazard), Math.log(Math.min(MOST_DAYS, daysAhead) / USUAL.days)];
}

function hazardOf(survival: number): number {
  return -Math.log(Math.max(survival, 1e-300));
}

/** A forecast at SURVIVAL_DAYS under it. */
export function laterSurvival(survival: Float64Array, later: LaterHazard | null): Float64Array {
  if (later === null) return survival;
  const { level, rise, ahead } = later;
  const changed = survival.slice();
  const first = SURVIVAL_DAYS.indexOf(FOLLOWED_DAYS);
  let hazard = hazardOf(survival[first]!);
  for (let k = first + 1; k < survival.length; k++) {
    const [before, after] = [hazardOf(survival[k - 1]!), hazardOf(survival[k]!)];
    const columns = columnsOf((before + after) / 2, (SURVIVAL_DAYS[k - 1]! + SURVIVAL_DAYS[k]!) / 2);
    hazard += (after - before) * Math.exp(level + rise * columns[1]! + ahead * columns[2]!);
    changed[k] = Math.exp(-hazard);
  }
  return changed;
}
