/** The addresses of the pages. Unit numbers are data: they travel as an encoded query value, never as a path. */
export type Route =
  | { page: 'priority'; search: string }
  | { page: 'track-record'; search: string }
  | { page: 'imports'; search: string }
  | { page: 'settings' }
  | { page: 'unit'; unit: string; position: string; asOf: string }
  | { page: 'unknown'; path: string };

export const TRACK_RECORD = '/track-record';
export const IMPORTS = '/imports';
export const SETTINGS = '/settings';

export function readRoute(pathname: string, search: string): Route {
  if (pathname === '/') return { page: 'priority', search };
  if (pathname === TRACK_RECORD) return { page: 'track-record', search };
  if (pathname === IMPORTS) return { page: 'imports', search };
  if (pathname === SETTINGS) return { page: 'settings' };
  const query = new URLSearchParams(search);
  const unit = query.get('unit');
  if (pathname === '/unit' && unit !== null && unit !== '')
    return { page: 'unit', unit, position: query.get('position') ?? '', asOf: query.get('as-of') ?? '' };
  return { page: 'unknown', path: pathname };
}

/** `asOf`: the day as known then; '' for the newest. */
export function unitHref(unit: string, position: string, asOf = ''): string {
  const query = new URLSearchParams({ unit });
  if (position !== '') query.set('position', position);
  if (asOf !== '') query.set('as-of', asOf);
  return `/unit?${query.toString()}`;
}

/** What a history entry carries beside its address: where the list stood, so that going back lands there. */
export type HistoryNote = { scrollY?: number; listSearch?: string };

export function historyNote(value: unknown): HistoryNote {
  if (typeof value !== 'object' || value === null) return {};
  const { scrollY, listSearch } = value as Record<string, unknown>;
  return {
    ...(typeof scrollY === 'number' ? { scrollY } : {}),
    ...(typeof listSearch === 'string' ? { listSearch } : {}),
  };
}
