import type { GrowingRecord } from './growing-record.ts';

/** So many samples in a row, each later than the one before, are no glitch of single time stamps. Program. */
const STEPPED_SAMPLES = 3;

/**
 * Whether a clock that runs back was set back, at the sample given and some before it: its times go on, over instants at
 * which other volts are recorded already. Left out one by one, such samples would leave a splice that nothing tells from
 * a gapless record. Samples that came late belong into a hole, and what was sent twice says the same again: neither is a
 * step. Keeps count in the record.
 */
export function clockStepped(record: GrowingRecord, us: number, volts: number): boolean {
  const { stepped } = record;
  if (!liesOver(record, us, volts)) {
    record.stepped = { count: 0, lastUs: Number.NaN };
    return false;
  }
  const count = us > stepped.lastUs ? stepped.count + 1 : 1;
  record.stepped = { count, lastUs: us };
  return count >= STEPPED_SAMPLES;
}

/** A hole is as wide as two steps of the samples before it. */
function liesOver(record: GrowingRecord, us: number, volts: number): boolean {
  const at = record.lastUntil(us);
  if (at < 1 || at + 1 >= record.count) return at >= 1;
  const [earlier, before, after] = [record.sample(at - 1), record.sample(at), record.sample(at + 1)];
  if (before.us === us && before.volts === volts) return false;
  return after.us - before.us < 1.5 * (before.us - earlier.us);
}
