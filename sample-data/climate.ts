import { dateFromDay, yearFraction } from './calendar.ts';
import type { Random } from './random.ts';
import type { Depot } from './region.ts';

/**
 * Daily weather of a depot: a yearly wave, day-to-day noise with memory, cold snaps in winter and hot spells in summer
 * that come to the whole region at once. Temperatures in °C; `firstDay` is the day of index 0.
 */
export type Climate = { firstDay: number; meanC: Float32Array; swingC: number; salted: Uint8Array };

/** Coldest day of the year as a fraction of it: about 20 January, common for northern inland climates. */
const COLDEST = 0.055;

/** What comes to the whole region: noise and spells, in K about the season's mean. */
export function regionAnomaly(random: Random, firstDay: number, days: number): Float32Array {
  const anomaly = new Float32Array(days);
  let noise = 0;
  for (let index = 0; index < days; index += 1) {
    noise = 0.8 * noise + 1.3 * random.normal();
    anomaly[index] = noise;
  }
  const firstYear = Number(dateFromDay(firstDay).slice(0, 4));
  for (let year = firstYear; year <= firstYear + Math.ceil(days / 365); year += 1)
    addSpells(anomaly, { random, year, firstDay });
  return anomaly;
}

function addSpells(anomaly: Float32Array, at: { random: Random; year: number; firstDay: number }): void {
  const { random, year, firstDay } = at;
  const newYear = Date.UTC(year, 0, 1) / 86_400_000;
  const snaps = random.integer(1, 3);
  for (let snap = 0; snap < snaps; snap += 1)
    addSpell(anomaly, newYear + random.integer(-35, 62) - firstDay, {
      days: random.integer(4, 10),
      peakC: -random.between(4, 9),
    });
  const heats = random.integer(1, 2);
  for (let heat = 0; heat < heats; heat += 1)
    addSpell(anomaly, newYear + random.integer(165, 230) - firstDay, {
      days: random.integer(4, 9),
      peakC: random.between(4, 8),
    });
}

function addSpell(anomaly: Float32Array, from: number, spell: { days: number; peakC: number }): void {
  for (let day = 0; day < spell.days; day += 1) {
    const index = from + day;
    if (index < 0 || index >= anomaly.length) continue;
    anomaly[index] = anomaly[index]! + spell.peakC * Math.min(1, (day + 1) / 2, (spell.days - day) / 2);
  }
}

export function depotClimate(depot: Depot, anomaly: Float32Array, at: { firstDay: number; random: Random }): Climate {
  const meanC = new Float32Array(anomaly.length);
  const salted = new Uint8Array(anomaly.length);
  let noise = 0;
  for (let index = 0; index < anomaly.length; index += 1) {
    noise = 0.7 * noise + 0.8 * at.random.normal();
    const season = -depot.seasonC * Math.cos(2 * Math.PI * (yearFraction(at.firstDay + index) - COLDEST));
    const mean = depot.meanC + season + depot.exposure * anomaly[index]! + noise;
    meanC[index] = mean;
    salted[index] = mean < 2 ? 1 : 0;
  }
  return { firstDay: at.firstDay, meanC, swingC: depot.swingC, salted };
}

export function dayMeanC(climate: Climate, day: number): number {
  return climate.meanC[day - climate.firstDay] ?? Number.NaN;
}

/** Coldest at 5 h, warmest at 15 h (a sine through both, from memory of any weather station's day). */
export function temperatureC(climate: Climate, day: number, secondOfDay: number): number {
  const hour = secondOfDay / 3600;
  return dayMeanC(climate, day) - climate.swingC * Math.cos((2 * Math.PI * (hour - 4)) / 24);
}
