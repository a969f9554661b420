import type { Random } from './random.ts';

/**
 * How a lead-acid bank ages here, a day at a time.
 *
 * - Grid corrosion: damage grows at an Arrhenius rate (twice as fast 10 K warmer); 1 is the design life.
 * - Resistance hardly rises until the bank's own knee, then with the square of the way past it.
 * - Capacity fades in proportion to damage, faster past the knee.
 * - Sulfation: grows while the bank stands below three quarters charged, and is won back slowly when full.
 * - A cell shorts or a link breaks at random, little more often in an old bank than in a new one: no warning.
 *
 * All dimensionless but days and °C. Figures from memory of the trade, chosen so that lives come out at 3 to 5 years.
 */
export type Battery = {
  fittedDay: number;
  /** Design life of this specimen at 20 °C. */
  lifeDays: number;
  /** Damage at which resistance begins to rise. */
  knee: number;
  damage: number;
  sulfation: number;
  charge: number;
  broken: 'cell_short' | 'open_link' | null;
  /** First day on which it failed a driver, once it was past use. */
  failedDay: number | null;
};

/** Activation energy over the gas constant, K: about 50 kJ/mol, so that 10 K about 20 °C double the rate. */
const ACTIVATION_K = 6014;
const SUDDEN_PER_DAY = 0.021 / 365.25;

/** Charge lost in a day at 20 °C (2 % a month, from memory), and through a shorted cell that its neighbours feed. */
const SELF_DISCHARGE_PER_DAY = 0.0007;
const SHORTED_CELL_PER_DAY = 0.3;

export function newBattery(random: Random, fittedDay: number, designDays: number): Battery {
  return {
    fittedDay,
    lifeDays: designDays * random.lognormal(0.2),
    knee: random.between(0.62, 0.88),
    damage: 0,
    sulfation: 0,
    charge: 0.97,
    broken: null,
    failedDay: null,
  };
}

/** Damage of a day at this battery temperature, in days at 20 °C. */
export function arrheniusDays(batteryC: number): number {
  return Math.exp(ACTIVATION_K * (1 / 293.15 - 1 / (batteryC + 273.15)));
}

export type BatteryDay = {
  batteryC: number;
  /** Ah drawn while nobody drove, over the bank's rated Ah. */
  drainShare: number;
  random: Random;
};

export function ageBattery(battery: Battery, day: BatteryDay): void {
  const stress = 1 + 0.8 * Math.max(0, 0.75 - battery.charge);
  battery.damage += (stress * arrheniusDays(day.batteryC)) / battery.lifeDays;
  const shorted = battery.broken === 'cell_short' ? SHORTED_CELL_PER_DAY : 0;
  const selfDischarge = SELF_DISCHARGE_PER_DAY * arrheniusDays(day.batteryC);
  battery.charge = Math.max(0.02, battery.charge - day.drainShare / capacity(battery) - selfDischarge - shorted);
  if (battery.charge < 0.75) battery.sulfation = Math.min(0.8, battery.sulfation + 0.012 * (0.75 - battery.charge));
  else if (battery.charge > 0.93) battery.sulfation *= 0.997;
  if (battery.broken === null && day.random.uniform() < SUDDEN_PER_DAY * (1 + battery.damage))
    battery.broken = day.random.chance(0.6) ? 'cell_short' : 'open_link';
}

/** Ah left, over rated. */
export function capacity(battery: Battery): number {
  const past = pastKnee(battery);
  return Math.max(0.12, 1 - 0.28 * battery.damage - 0.18 * past - 0.4 * battery.sulfation);
}

/** Resistance over that of a new bank at the same charge and temperature. */
export function resistanceFactor(battery: Battery): number {
  const past = pastKnee(battery);
  const broken = battery.broken === 'open_link' ? 9 : battery.broken === 'cell_short' ? 2.4 : 1;
  return (1 + 0.1 * battery.damage + 0.95 * past * past + 0.55 * battery.sulfation) * broken;
}

function pastKnee(battery: Battery): number {
  return Math.max(0, battery.damage - battery.knee) / (1 - battery.knee);
}

/** Worn so far that charging would not save it: the threshold at which a workshop's tester says replace. */
export function pastUse(battery: Battery): boolean {
  return battery.broken !== null || resistanceFactor(battery) > 1.55 || capacity(battery) < 0.6;
}

/** Engine running for some hours with a sound alternator; `floor` lowers what a weak one can reach. */
export function recharge(battery: Battery, hours: number, ceiling: number): void {
  const full = Math.min(ceiling, 0.985 - 0.12 * battery.sulfation);
  battery.charge += (full - battery.charge) * (1 - Math.exp(-hours / 1.3));
}

export function discharge(battery: Battery, ampSeconds: number, ratedAh: number): void {
  battery.charge = Math.max(0.02, battery.charge - ampSeconds / (3600 * ratedAh * capacity(battery)));
}
