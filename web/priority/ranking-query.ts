/** The list's filters, order and axis as they stand in the address, so that a view can be sent and gone back to. */
import type { Ranking } from '../../api/contract/ranking.ts';
import type { Action, ForecastComponent } from '../words.ts';
import { ACTION_WORDS, COMPONENT_WORDS } from '../words.ts';

export const SORT_KEYS = [
  'rank',
  'unit',
  'depot',
  'class',
  'component',
  'action',
  'window',
  'chance',
  'cost',
  'actBy',
] as const;
export type SortKey = (typeof SORT_KEYS)[number];

export const DECISIONS = ['open', 'booked', 'deferred'] as const;
export type Decision = (typeof DECISIONS)[number];

/** Months that the common time axis shows. */
export const AXIS_MONTHS = [6, 12, 24, 60] as const;
export type AxisMonths = (typeof AXIS_MONTHS)[number];

/** '' means no filter. */
export type RankingQuery = {
  depot: string;
  class: string;
  component: ForecastComponent | '';
  action: Action | '';
  decision: Decision | '';
  text: string;
  sort: SortKey;
  descending: boolean;
  months: AxisMonths;
};

export const PLAIN_QUERY: RankingQuery = {
  depot: '',
  class: '',
  component: '',
  action: '',
  decision: '',
  text: '',
  sort: 'rank',
  descending: false,
  months: 12,
};

/** Values that this program does not know are left out, so that an old link still opens. */
export function readQuery(search: string): RankingQuery {
  const given = new URLSearchParams(search);
  const known = <Word extends string>(name: string, words: readonly Word[]) =>
    words.find((word) => word === given.get(name)) ?? '';
  const sort = given.get('sort') ?? '';
  return {
    depot: given.get('depot') ?? '',
    class: given.get('class') ?? '',
    component: known('component', Object.keys(COMPONENT_WORDS).filter(isForecast)),
    action: known('action', Object.keys(ACTION_WORDS) as Action[]),
    decision: known('decision', DECISIONS),
    text: given.get('text') ?? '',
    sort: SORT_KEYS.find((key) => key === sort.replace(/^-/, '')) ?? 'rank',
    descending: sort.startsWith('-'),
    months: AXIS_MONTHS.find((months) => String(months) === given.get('months')) ?? PLAIN_QUERY.months,
  };
}

function isForecast(word: string): word is ForecastComponent {
  return word === 'battery' || word === 'starter';
}

/** '' for the plain list, else `?…` with only what differs from it. */
export function writeQuery(query: RankingQuery): string {
  const given = new URLSearchParams();
  for (const name of ['depot', 'class', 'component', 'action', 'decision', 'text'] as const)
    if (query[name] !== '') given.set(name, query[name]);
  if (query.sort !== 'rank' || query.descending) given.set('sort', `${query.descending ? '-' : ''}${query.sort}`);
  if (query.months !== PLAIN_QUERY.months) given.set('months', String(query.months));
  const text = given.toString();
  return text === '' ? '' : `?${text}`;
}

/** The choices that the rows themselves offer, in reading order. */
export function choices(rows: Ranking['rows'], field: 'depot' | 'class'): string[] {
  return [...new Set(rows.map((row) => row[field]))].filter((value) => value !== '').sort();
}
