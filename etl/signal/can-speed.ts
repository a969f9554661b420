import { THRESHOLDS as T } from './thresholds.ts';

/** Engine speed readings of one crank, in time order. */
export type SpeedReadings = { us: number[]; rpm: number[] };

/** Speeds this much over the median are the engine's own: it picks up. Program. */
const PICK_UP_SHARE = 1.4;

/**
 * When the engine begins to pull by itself: the first reading of the climb that ends the crank. `endUs` where there is
 * no such climb.
 */
export function pickUpOf({ us, rpm }: SpeedReadings, rollingUs: number, endUs: number): number {
  const rolling = rpm
    .filter((value, index) => value > 0 && us[index]! >= rollingUs && us[index]! < endUs)
    .sort(byValue);
  if (rolling.length === 0) return endUs;
  const climbs = PICK_UP_SHARE * rolling[rolling.length >> 1]!;
  let first = rpm.length;
  while (first > 0 && (us[first - 1]! >= endUs || rpm[first - 1]! > climbs)) first--;
  return Math.min(endUs, us[first] ?? endUs);
}

/**
 * Mean of the readings while rolling, rpm; NaN where fewer than three different ones were seen. As in a waveform log,
 * the value that the speed first jumps to is left out as long as it stands still: a controller's default is no speed.
 * Readings come at one rate, so their mean is the time mean.
 */
export function rollingRpm({ us, rpm }: SpeedReadings, fromUs: number, toUs: number): number {
  const first = rpm.find((value) => value > 0);
  const moving = rpm.filter(
    (value, index) => us[index]! >= fromUs && us[index]! < toUs && value !== first && value > 0 && value < T.runningRpm,
  );
  return new Set(moving).size >= 3 ? moving.reduce((sum, value) => sum + value, 0) / moving.length : Number.NaN;
}

function byValue(a: number, b: number): number {
  return a - b;
}
