/** The filters of the track record as they stand in the address. '' means no filter. */
import type { TrackedForecast } from '../../api/contract/track-record.ts';

export const OUTCOMES = ['failed', 'lived', 'open'] as const;
export type Outcome = (typeof OUTCOMES)[number];
export type TrackQuery = {
  component: TrackedForecast['component'] | '';
  depot: string;
  class: string;
  /** First and last day of forecasts, as dates. */
  from: string;
  to: string;
  outcome: Outcome | '';
  /** The first row of the list that is shown. */
  offset: number;
};

export const PLAIN_TRACK_QUERY: TrackQuery = {
  component: '',
  depot: '',
  class: '',
  from: '',
  to: '',
  outcome: '',
  offset: 0,
};
/** Rows on one page of the list. */
export const PAGE_ROWS = 100;
const COMPONENTS = ['battery', 'starter'] as const;
const NAMES = ['component', 'depot', 'class', 'from', 'to', 'outcome'] as const;

/** Values that this program does not know are left out, so that an old link still opens. */
export function readTrackQuery(search: string): TrackQuery {
  const given = new URLSearchParams(search);
  const offset = Number(given.get('offset') ?? '0');
  return {
    component: COMPONENTS.find((word) => word === given.get('component')) ?? '',
    depot: given.get('depot') ?? '',
    class: given.get('class') ?? '',
    from: dateOrNone(given.get('from')),
    to: dateOrNone(given.get('to')),
    outcome: OUTCOMES.find((word) => word === given.get('outcome')) ?? '',
    offset: Number.isInteger(offset) && offset > 0 ? offset : 0,
  };
}

function dateOrNone(text: string | null): string {
  return text !== null && /^\d{4}-\d{2}-\d{2}$/.test(text) ? text : '';
}

/** '' for all, else `?…` with only what differs from it. */
export function writeTrackQuery(query: TrackQuery): string {
  const text = filters(query).toString();
  return text === '' ? '' : `?${text}`;
}

/** What the server is asked for: one page of the list. */
export function pageQuery(query: TrackQuery): string {
  const given = filters(query);
  given.set('limit', String(PAGE_ROWS));
  return `?${given.toString()}`;
}

/** The whole list that the filters let through, as a file. */
export function downloadHref(query: TrackQuery): string {
  const given = filters({ ...query, offset: 0 });
  given.set('format', 'csv');
  return `/api/track-record?${given.toString()}`;
}

function filters(query: TrackQuery): URLSearchParams {
  const given = new URLSearchParams();
  for (const name of NAMES) if (query[name] !== '') given.set(name, query[name]);
  if (query.offset > 0) given.set('offset', String(query.offset));
  return given;
}
