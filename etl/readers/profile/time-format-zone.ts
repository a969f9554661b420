import { IANAZone } from 'luxon';
import { offsetUs } from './time-format-pattern.ts';

/** A wall clock in a zone → the instant; or why there is none. */
export type ToInstant = (wallUs: number) => number | 'skipped' | 'repeated';

const HOUR_US = 3600e6;

/** A zone by its IANA name or its offset. Throws RangeError for a name that is neither. */
export function zoneInstants(zone: string): ToInstant {
  if (/^(Z|UTC|[+-]\d\d(:?\d\d)?)$/i.test(zone)) {
    const ahead = offsetUs(zone);
    return (wallUs) => wallUs - ahead;
  }
  if (!IANAZone.isValidZone(zone))
    throw new RangeError(`time zone requires an IANA name or an offset such as +01:00, got ${zone}`);
  const iana = IANAZone.create(zone);
  const ahead = (us: number) => iana.offset(Math.floor(us / 1000)) * 60e6;
  // Clocks change on the quarter of an hour at the finest, so that what holds at its beginning holds to its end.
  let [quarter, answer]: [number, number | 'skipped' | 'repeated'] = [Number.NaN, 0];
  return (wallUs) => {
    const from = Math.floor(wallUs / (HOUR_US / 4)) * (HOUR_US / 4);
    if (from !== quarter) [quarter, answer] = [from, aheadAt(from, ahead)];
    return typeof answer === 'number' ? wallUs - answer : answer;
  };
}

/** The offsets that could hold around this time; those under which the wall clock really showed it. */
function aheadAt(wallUs: number, ahead: (us: number) => number): number | 'skipped' | 'repeated' {
  const candidates = new Set([ahead(wallUs - 26 * HOUR_US), ahead(wallUs + 26 * HOUR_US), ahead(wallUs)]);
  const held = [...candidates].filter((each) => ahead(wallUs - each) === each);
  if (held.length === 0) return 'skipped';
  return held.length === 1 ? held[0]! : 'repeated';
}
