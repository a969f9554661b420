import { Draws } from './draws.ts';
import type { Depot } from './world.ts';

/**
 * Weather of a depot: a yearly wave, coldest in mid-January, and an anomaly that remembers the day before. The future
 * is known only as this climate and today's anomaly.
 */
export type Weather = { firstDay: number; anomalyC: Float32Array; depot: Depot };

const MEMORY = 0.85;
const COLDEST_DAY = 15;
const YEAR_DAYS = 365.25;
/** The coldest hour below the day's mean, K. */
const MORNING_K = 5;

export function weatherOf(seed: number, depot: Depot, { firstDay, days }: { firstDay: number; days: number }): Weather {
  const draws = new Draws(seed, 'weather', depot.name);
  const anomalyC = new Float32Array(days);
  let now = depot.weatherSd * draws.normal();
  for (let day = 0; day < days; day++) {
    anomalyC[day] = now;
    now = nextAnomaly(now, depot, draws);
  }
  return { firstDay, anomalyC, depot };
}

function nextAnomaly(now: number, { weatherSd }: Depot, draws: Draws): number {
  return MEMORY * now + Math.sqrt(1 - MEMORY ** 2) * weatherSd * draws.normal();
}

/** Mean of the season, °C. */
function seasonC({ meanC, seasonC: swing }: Depot, day: number): number {
  return meanC - swing * Math.cos((2 * Math.PI * (day - COLDEST_DAY)) / YEAR_DAYS);
}

export function dayC({ depot, firstDay, anomalyC }: Weather, day: number): number {
  return seasonC(depot, day) + anomalyC[day - firstDay]!;
}

export function morningC(meanC: number): number {
  return meanC - MORNING_K;
}

/** Day means of futures that may follow, one after the other: path p, day d is at p · days + d; day 0 is tomorrow. */
export type Futures = { paths: number; days: number; meanC: Float32Array };

export function futuresFrom(
  weather: Weather,
  day: number,
  { paths, days, draws }: { paths: number; days: number; draws: Draws },
): Futures {
  const meanC = new Float32Array(paths * days);
  for (let path = 0; path < paths; path++) {
    let anomaly = weather.anomalyC[day - weather.firstDay]!;
    for (let ahead = 0; ahead < days; ahead++) {
      anomaly = nextAnomaly(anomaly, weather.depot, draws);
      meanC[path * days + ahead] = seasonC(weather.depot, day + 1 + ahead) + anomaly;
    }
  }
  return { paths, days, meanC };
}
