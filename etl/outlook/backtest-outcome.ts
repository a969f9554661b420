import { engineKey } from '../lives/build-lives.ts';
import type { BacktestForecast } from '../model/backtest.ts';
import { groupBy } from '../model/group-by.ts';
import type { ServiceLife } from '../model/service-life.ts';
import { dateOf, dayNumber } from '../model/time.ts';

/**
 * What happened to a part after a forecast, by the lives that all records make, those entered since included.
 *
 * What is known ends some days before the newest record: the failures of the last days are not all entered yet, and a part
 * that seems to live may have failed. `followedDay` is that end; what came after it is not looked at.
 */
export type Hindsight = { livesOf: ReadonlyMap<string, readonly ServiceLife[]>; followedDay: number };

/** Two records of one exchange lie within so many days, so that a fitting may move by them. Convention of this program. */
const SAME_FITTING_DAYS = 3;

export function hindsight(lives: readonly ServiceLife[], followedDay: number): Hindsight {
  return { livesOf: groupBy(lives, partPlace), followedDay };
}

export function partPlace({ unit, position, component }: Pick<ServiceLife, 'unit' | 'position' | 'component'>): string {
  return `${engineKey(unit, position)}\u0000${component}`;
}

export type Outcome = Pick<BacktestForecast, 'partSinceOn' | 'failedOn' | 'end' | 'followedToOn'>;

/** `known`: the life that was taken to be in service at the origin. null where no record of it is left. */
export function outcomeOf(known: ServiceLife, originDay: number, { livesOf, followedDay }: Hindsight): Outcome | null {
  const lives = livesOf.get(partPlace(known));
  if (lives === undefined) return null;
  const life = lives.find((each) => spans(each, originDay));
  const gone = {
    partSinceOn: known.watchedFromOn,
    failedOn: null,
    end: 'gone',
    followedToOn: dateOf(originDay),
  } as const;
  if (life === undefined || fittedSince(life, known)) return gone;
  const endDay = dayNumber(life.watchedToOn);
  const partSinceOn = life.watchedFromOn;
  if (life.end === 'in_service' || endDay > followedDay) {
    const followedToOn = dateOf(Math.max(originDay, Math.min(endDay, followedDay)));
    return { partSinceOn, failedOn: null, end: 'in_service', followedToOn };
  }
  const failedOn = life.end === 'failure' ? life.watchedToOn : null;
  return { partSinceOn, failedOn, end: life.end, followedToOn: life.watchedToOn };
}

/** Working at the end of the day. */
function spans(life: ServiceLife, day: number): boolean {
  const to = dayNumber(life.watchedToOn);
  return dayNumber(life.watchedFromOn) <= day && (to > day || life.end === 'in_service');
}

/** Another part than the one that the forecast was about: it came in before the origin, and nobody had entered it yet. */
function fittedSince(life: ServiceLife, known: ServiceLife): boolean {
  if (life.fittedOn === null) return false;
  return dayNumber(life.fittedOn) > dayNumber(known.fittedOn ?? known.watchedFromOn) + SAME_FITTING_DAYS;
}

/** null where it was neither seen to fail within the horizon nor followed to its end. */
export function failedWithin(
  { failedOn, end, followedToOn }: Outcome,
  originDay: number,
  horizonDays: number,
): boolean | null {
  if (end === 'gone') return null;
  const days = dayNumber(followedToOn) - originDay;
  if (failedOn !== null && days <= horizonDays) return true;
  return days >= horizonDays ? false : null;
}
