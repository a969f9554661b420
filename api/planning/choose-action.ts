import type { BasisWord, Action } from '../../etl/model/words.ts';

/**
 * What to do with a component, from the cost of waiting in minor units and the forecast's standing:
 *
 * - `book_now`: waiting to the next visit costs more than pulling the unit in before it, and more than a fresh part
 *   would cost until then.
 * - `book_at_next_visit`: not that, but going on from the next visit to the one after would cost more than a fresh part.
 * - `measure_first`: a replacement would be due, but a test that costs little could still overturn it.
 * - `leave`: neither.
 *
 * A test can overturn a replacement where the forecast has not looked at the component itself (age alone), or where
 * battery and starter of one engine are both likely and it may be only one of them. It is worth making where the
 * better of "replace" and "leave" would still be regretted by more than the test costs.
 */
export type ActionQuestion = {
  waitingMinor: number;
  /** Cost of going on to the next visit over that of a fresh part; the same from there to the visit after it. */
  goingOnMinor: number;
  goingOnAfterMinor: number;
  /** What pulling the unit in costs on top of the job at a visit. */
  pullInMinor: number;
  pFail: number;
  /** The same for the other component of the engine; null where nothing is known of it. */
  pFailOther: number | null;
  basis: readonly BasisWord[];
  /** What is lost by a failure on the road, and by replacing what would have lasted. */
  failureLossMinor: number;
  replacedEarlyLossMinor: number;
  testMinor: number;
};

export function chooseAction(question: ActionQuestion): Action {
  const due = dueAction(question);
  if (due === 'leave') return 'leave';
  return isOpen(question) && regretMinor(question) > question.testMinor ? 'measure_first' : due;
}

function dueAction(question: ActionQuestion): Exclude<Action, 'measure_first'> {
  if (question.waitingMinor > question.pullInMinor && question.goingOnMinor > 0) return 'book_now';
  return question.goingOnAfterMinor > 0 ? 'book_at_next_visit' : 'leave';
}

/** Whether a test could say something that the forecast does not know already. */
function isOpen({ basis, pFail, pFailOther }: ActionQuestion): boolean {
  if (!basis.includes('condition')) return true;
  return pFailOther !== null && pFail >= LIKELY && pFailOther >= LIKELY && pFail < RIVAL_FACTOR * pFailOther;
}

/** What is lost on average by the better of the two decisions for want of knowing the component's true state. */
function regretMinor({ pFail, failureLossMinor, replacedEarlyLossMinor }: ActionQuestion): number {
  return Math.min(pFail * failureLossMinor, (1 - pFail) * replacedEarlyLossMinor);
}

/** From this probability on a component counts as a likely cause. Convention of this program. */
const LIKELY = 0.2;
/** Of two likely causes one stands out when it is so many times as likely as the other. Convention of this program. */
const RIVAL_FACTOR = 3;
