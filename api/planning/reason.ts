import type { Outlook } from '../../etl/model/outlook.ts';
import type { Action } from '../../etl/model/words.ts';
import { moneyWords } from './money.ts';
import type { NextVisit } from './next-visit.ts';
import type { ReplacementCost } from './replacement-cost.ts';

/**
 * Why a row stands where it stands, in one sentence for the planner: how likely, until when, on what evidence, and
 * what follows in money.
 *
 * @example "38 % likely to fail before the maintenance visit on 2026-05-01 (log sag ratio rising 0.21 a year): waiting
 *          would cost USD 420 on average, more than the USD 255 to pull it in."
 */
export type ReasonQuestion = {
  outlook: Outlook;
  action: Action;
  pFail: number;
  waitingMinor: number;
  cost: ReplacementCost;
  visit: NextVisit;
  currency: string;
};

const VISIT_WORDS: Record<NextVisit['from'], string> = {
  booked: 'booked job',
  shop_visit: 'shop visit',
  maintenance: 'maintenance visit',
  assumed: 'assumed visit',
};

export function reason(question: ReasonQuestion): string {
  const { outlook, pFail, visit } = question;
  const evidence = outlook.evidence[0];
  const because = evidence === undefined ? '' : ` (${evidence.replace(/\.$/, '')})`;
  return `${percent(pFail)} likely to fail before the ${VISIT_WORDS[visit.from]} on ${visit.on}${because}: ${consequence(question)}.`;
}

/** For a component of which nothing can be said. */
export function refusalReason(outlook: Outlook): string {
  const why = outlook.evidence.join('; ').replace(/\.$/, '');
  return `No forecast: ${why === '' ? 'nothing is known of this component' : why}. A test on the vehicle would tell.`;
}

function consequence({ action, waitingMinor, cost, currency, outlook }: ReasonQuestion): string {
  const waiting = moneyWords(waitingMinor, currency);
  const pullIn = moneyWords(cost.pulledInMinor - cost.atVisitMinor, currency);
  const words: Record<Action, [costly: string, worthwhile: string]> = {
    book_now: both(`waiting would cost ${waiting} on average, more than the ${pullIn} to pull it in`),
    book_at_next_visit: [
      `waiting costs ${waiting} on average, less than the ${pullIn} to pull it in, so replace it then`,
      'it is worth keeping until then, but not until the visit after',
    ],
    measure_first: both(
      outlook.basis.includes('condition')
        ? 'battery and starter are both likely, and a test tells which before a part is bought'
        : 'known by its age only, and a test tells whether it is really worn before a part is bought',
    ),
    leave: [
      `waiting costs ${waiting} on average, and a fresh part would be little better`,
      `replacing it now would throw away ${moneyWords(-waitingMinor, currency)} more of its life than it saves`,
    ],
  };
  return words[action][waitingMinor > 0 ? 0 : 1];
}

const both = (words: string): [string, string] => [words, words];

/** `0.004` → `under 1 %`, `0.997` → `over 99 %`: never a certainty that the forecast does not claim. */
function percent(share: number): string {
  const rounded = Math.round(share * 100);
  if (rounded < 1) return 'under 1 %';
  return rounded > 99 ? 'over 99 %' : `${rounded} %`;
}
