import type { PartSince } from '../contract/unit.ts';
import { failureProbability, type Outlook } from '../../etl/model/outlook.ts';
import type { ServiceLife } from '../../etl/model/service-life.ts';
import { dayNumber, type AsOf } from '../../etl/model/time.ts';
import { hindsight, outcomeOf, partPlace, type Outcome } from '../../etl/outlook/backtest-outcome.ts';

/** The day of the forecast, and the day up to which it is known what happened. */
export type Between = { said: AsOf; known: AsOf };

/** What became of each part that an earlier assessment spoke of, by the lives that the newest one knows. */
export function partsSince(
  forecast: { outlooks: readonly Outlook[]; lives: readonly ServiceLife[] },
  livesNow: readonly ServiceLife[],
  { said, known }: Between,
): PartSince[] {
  const after = hindsight(livesNow, dayNumber(known.on));
  const originDay = dayNumber(said.on);
  return forecast.outlooks.flatMap((outlook) => {
    const part = forecast.lives.find((life) => life.end === 'in_service' && partPlace(life) === partPlace(outlook));
    if (part === undefined) return [];
    const { position, component } = outlook;
    const outcome = outcomeOf(part, originDay, after);
    if (outcome === null) return [{ position, component, end: 'lost' as const, on: known.on, ...NOTHING }];
    return [{ position, component, ...told(outlook, outcome, { originDay, livesNow }) }];
  });
}

const NOTHING = { days: 0, workOrder: '', window: null, pFailByThen: null };

function told(
  outlook: Outlook,
  { end, followedToOn }: Outcome,
  { originDay, livesNow }: { originDay: number; livesNow: readonly ServiceLife[] },
): Omit<PartSince, 'position' | 'component'> {
  if (end === 'gone') return { end, on: followedToOn, ...NOTHING };
  const days = dayNumber(followedToOn) - originDay;
  const ended = livesNow.find((life) => partPlace(life) === partPlace(outlook) && life.removedOn === followedToOn);
  return {
    end,
    on: followedToOn,
    days,
    workOrder: end === 'in_service' ? '' : (ended?.workOrder ?? ''),
    window: end === 'failure' && outlook.survival !== null ? placeOf(followedToOn, outlook) : null,
    pFailByThen: outlook.survival === null ? null : failureProbability(outlook.survival, days),
  };
}

/** Dates of a window that lie past five years are not written: a failure before them is before. */
function placeOf(on: string, { windowEarlyOn, windowLateOn }: Outlook): 'before' | 'inside' | 'after' {
  if (windowEarlyOn === null || on < windowEarlyOn) return 'before';
  return windowLateOn !== null && on > windowLateOn ? 'after' : 'inside';
}
