/** What became of a part after an earlier day's forecast, in a sentence, beside what had been said. */
import type { PartSince } from '../../api/contract/unit.ts';
import { counted, date, probability } from '../format.ts';

const WINDOW_WORDS: Record<NonNullable<PartSince['window']>, string> = {
  before: 'before the window began',
  inside: 'inside the window',
  after: 'after the window had ended',
};

export function sinceWords(since: PartSince): string {
  const { end, on, days, window, pFailByThen } = since;
  const later = `${counted(days, 'day', 'days')} later`;
  const order = since.workOrder === '' ? '' : ` (work order ${since.workOrder})`;
  const given =
    pFailByThen === null ? '' : ` The chance of failing by then had been put at ${probability(pFailByThen)}.`;
  switch (end) {
    case 'failure':
      return `Failed on ${date(on)}${order}, ${later}${window === null ? '' : `, ${WINDOW_WORDS[window]}`}.${given}`;
    case 'planned':
      return `Replaced as planned on ${date(on)}${order}, ${later}, before it failed.${given}`;
    case 'in_service':
      return `Still in service on ${date(on)}, ${later}.${given}`;
    case 'gone':
      return 'It had already been replaced by then; the record of it was entered later.';
    case 'lost':
      return 'No record tells what became of it.';
  }
}
