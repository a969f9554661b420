import { UnreadableFile } from '../../model/set-aside.ts';
import { AHEAD_US, EARLIEST_US } from '../kinds/column-limits.ts';
import type { ReadOptions } from '../reader.ts';
import { timeFormat } from '../profile/time-format.ts';
import { zoneInstants, type ToInstant } from '../profile/time-format-zone.ts';
import type { CandumpLine, StampForm } from './candump-line.ts';

/** A log that counts from its start may be out of order by so much between two interfaces. Program. */
const OUT_OF_ORDER_US = 1e6;

/** What each form of time stamp lacks, and the remedy. */
export const LACKING: Record<Exclude<StampForm, 'epoch'>, string> = {
  none: 'time stamps, got none: record with candump -L or candump -ta',
  counted:
    'the time of day, got seconds from the start or the frame before: record with candump -L or candump -ta, or give time.start in an import profile',
  local:
    'a time zone, got dates without one: record with candump -L or candump -ta, or give time.zone in an import profile',
};

/** Time stamps of a bus log → instants, by what the import profile knows of the logger's clock. */
export class LogFrameTimes {
  /** Why the last stamp gave no instant: `<what> requires <condition>`. */
  reason = '';
  readonly #latestUs: number;
  readonly #startUs: number | null;
  readonly #zone: ToInstant | null;
  #lastCountedUs = -Infinity;

  constructor({ nowUs = Infinity, profile }: ReadOptions) {
    this.#latestUs = nowUs + AHEAD_US;
    const { start, zone } = profile?.time ?? {};
    this.#startUs = start === undefined ? null : instantOf(start, zone);
    this.#zone = zone === undefined ? null : zoneInstants(zone);
  }

  /** Whether stamps of this form can give instants at all. */
  suits(form: StampForm): boolean {
    if (form === 'local') return this.#zone !== null;
    return form === 'epoch' || (form === 'counted' && this.#startUs !== null);
  }

  /** µs since 1970; NaN, and `reason`, where the stamp gives none that can be. */
  instant({ stamp, timeUs }: CandumpLine): number {
    if (stamp !== 'epoch' && !this.suits(stamp)) return this.#refuse(`line requires ${LACKING[stamp]}`);
    if (stamp === 'counted') return this.#plausible(this.#counted(timeUs));
    if (stamp === 'local') {
      const us = this.#zone!(timeUs);
      if (typeof us === 'number') return this.#plausible(us);
      return this.#refuse(`time requires an hour that the clock showed once, got one ${us} as the clocks changed`);
    }
    return this.#plausible(timeUs);
  }

  #counted(us: number): number {
    if (us < this.#lastCountedUs - OUT_OF_ORDER_US)
      return this.#refuse('time requires seconds from the start (candump -tz), got ones that run back');
    this.#lastCountedUs = us;
    return this.#startUs! + us;
  }

  #plausible(us: number): number {
    if (us < EARLIEST_US) return this.#refuse('time requires a date from 1990 on: the clock was not set');
    if (us > this.#latestUs) return this.#refuse('time requires a date not after today: the clock is ahead');
    return us;
  }

  #refuse(reason: string): number {
    this.reason = reason;
    return Number.NaN;
  }
}

function instantOf(start: string, zone: string | undefined): number {
  const us = timeFormat({ format: 'iso', ...(zone === undefined ? {} : { zone }) }).instant(start);
  if (typeof us === 'number') return us;
  throw new UnreadableFile(`start of the log requires ${us.reason}, got ${start} (/time/start)`);
}
