import type { Measure } from './contract-fields.ts';

/** (value + before) × times ÷ over. */
export type Conversion = { before: number; times: number; over: number };

const by = (times: number, over = 1): Conversion => ({ before: 0, times, over });

/** Definitions: SI prefixes; 1 mi = 1.609344 km (international yard, 1959); °F and K by the kelvin's definition. */
const CONVERSIONS: Partial<Record<Measure, Readonly<Record<string, Conversion>>>> = {
  V: { V: by(1), mV: by(1, 1000), kV: by(1000) },
  A: { A: by(1), mA: by(1, 1000), kA: by(1000) },
  '°C': {
    '°C': by(1),
    C: by(1),
    '°F': { before: -32, times: 5, over: 9 },
    F: { before: -32, times: 5, over: 9 },
    K: { before: -273.15, times: 1, over: 1 },
  },
  rpm: { rpm: by(1), '1/min': by(1), Hz: by(60), '1/s': by(60) },
  s: { s: by(1), ms: by(1, 1000), µs: by(1, 1e6), us: by(1, 1e6), ns: by(1, 1e9), min: by(60), h: by(3600) },
  h: { h: by(1), min: by(1, 60), s: by(1, 3600), d: by(24) },
  d: { d: by(1), weeks: by(7) },
  km: { km: by(1), mi: by(1_609_344, 1e6), m: by(1, 1000) },
  kW: { kW: by(1), W: by(1, 1000) },
};

/** Durations written with colons, and the seconds that each part is worth. */
const CLOCK_FORMS: Readonly<Record<string, readonly number[]>> = {
  'h:mm': [3600, 60],
  'h:mm:ss': [3600, 60, 1],
  'mm:ss': [60, 1],
};

/** Every unit of measure that a field of this measure may be given in. */
export function unitsOfMeasure(measure: Measure): string[] {
  const clock = measure === 's' || measure === 'h' ? Object.keys(CLOCK_FORMS) : [];
  return [...Object.keys(CONVERSIONS[measure] ?? {}), ...clock];
}

/** All names of units of measure: what a profile may hold at all. */
export const UNITS_OF_MEASURE: readonly string[] = [
  ...new Set([...Object.values(CONVERSIONS).flatMap((units) => Object.keys(units)), ...Object.keys(CLOCK_FORMS)]),
];

export function conversionOf(measure: Measure, unitOfMeasure: string): Conversion | null {
  return CONVERSIONS[measure]?.[unitOfMeasure] ?? null;
}

/** The same conversion with the other sign. */
export function negated({ before, times, over }: Conversion): Conversion {
  return { before, times: -times, over };
}

/** The same conversion of values of which each one counts `scale`: a current clamp of 1 mV/A gives a volt for 1000 A. */
export function scaled({ before, times, over }: Conversion, scale: number): Conversion {
  return { before: before / scale, times: times * scale, over };
}

export function isOne({ before, times, over }: Conversion): boolean {
  return before === 0 && times === 1 && over === 1;
}

/** Beyond it a double no longer holds nine decimals. */
const MOST_ROUNDED = 1e6;

/** The converted value, rid of the dust of binary fractions and of minus nought: 12345.6 mV is 12.3456 V. */
export function converted(value: number, { before, times, over }: Conversion): number {
  const exact = ((value + before) * times) / over;
  return Math.abs(exact) < MOST_ROUNDED ? Math.round(exact * 1e9) / 1e9 + 0 : exact;
}

/** `1:30` as `h:mm` → 1.5 for a field in hours, 5400 for one in seconds; NaN for anything else. */
export function clockDuration(text: string, form: string, measure: Measure): number {
  const worth = CLOCK_FORMS[form];
  const parts = /^(\d{1,6})((?::\d\d){1,2})(?:\.\d+)?$/.exec(text);
  if (worth === undefined || parts === null) return Number.NaN;
  const numbers = text.split(':').map(Number);
  if (numbers.length !== worth.length || numbers.slice(1).some((part) => part >= 60)) return Number.NaN;
  const seconds = numbers.reduce((sum, part, index) => sum + part * worth[index]!, 0);
  return measure === 'h' ? seconds / 3600 : seconds;
}
