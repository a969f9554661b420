import { BUS_VOLTS } from '../model/bus-signals.ts';

/** Readings of volts, in time order. */
export type VoltReadings = { us: number[]; volts: number[] };
/** By place, in the order of BUS_VOLTS. */
export type VoltsByPlace = readonly VoltReadings[];

export function noVolts(): VoltReadings[] {
  return BUS_VOLTS.map(() => ({ us: [], volts: [] }));
}

/** Drops what is older than `sinceUs`. */
export function forgetBefore({ us, volts }: VoltReadings, sinceUs: number): void {
  let old = 0;
  while (old < us.length && us[old]! < sinceUs) old++;
  if (old === 0) return;
  us.splice(0, old);
  volts.splice(0, old);
}

/** Volts of readings in [fromUs, toUs). */
export function voltsWithin({ us, volts }: VoltReadings, fromUs: number, toUs: number): number[] {
  return volts.filter((_, index) => us[index]! >= fromUs && us[index]! < toUs);
}

/** Readings a second; NaN with fewer than two. */
export function voltsRate({ us }: VoltReadings): number {
  const span = (us.at(-1) ?? 0) - (us[0] ?? 0);
  return span > 0 ? ((us.length - 1) * 1e6) / span : Number.NaN;
}

/** Of the places that were read the one nearest to the bank; places are never mixed. */
export function nearestToBank(places: VoltsByPlace): VoltReadings {
  return places.find(({ us }) => us.length > 0) ?? { us: [], volts: [] };
}
