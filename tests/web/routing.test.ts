import { describe, expect, it } from 'vitest';
import { historyNote, readRoute, unitHref } from '../../web/routing.ts';

const route = (href: string) => {
  const { pathname, search } = new URL(href, 'http://127.0.0.1');
  return readRoute(pathname, search);
};

describe('addresses', () => {
  it.each(['../../x', '<img src=x onerror=alert(1)>', 'ü/14 %', "=cmd|' /C calc'!A0", '+1', 'a&position=b', '?', '#'])(
    'the unit %s comes back from its address as it went in, and stays a query value',
    (unit) => {
      expect(route(unitHref(unit, 'rear #2'))).toEqual({ page: 'unit', unit, position: 'rear #2', asOf: '' });
      expect(new URL(unitHref(unit, ''), 'http://127.0.0.1').pathname).toBe('/unit');
    },
  );

  it('a day of the past stands in the address', () => {
    expect(unitHref('T-1', '', '2026-03-01')).toBe('/unit?unit=T-1&as-of=2026-03-01');
    expect(route('/unit?unit=T-1&as-of=2026-03-01')).toMatchObject({ unit: 'T-1', asOf: '2026-03-01' });
  });

  it('knows the list, and says so where it knows nothing', () => {
    expect(route('/?depot=A')).toEqual({ page: 'priority', search: '?depot=A' });
    expect(route('/track-record?component=battery')).toEqual({ page: 'track-record', search: '?component=battery' });
    expect(route('/imports?rows=set-aside')).toEqual({ page: 'imports', search: '?rows=set-aside' });
    expect(route('/settings')).toEqual({ page: 'settings' });
    expect(route('/unit')).toEqual({ page: 'unknown', path: '/unit' });
    expect(route('/elsewhere')).toEqual({ page: 'unknown', path: '/elsewhere' });
  });

  it('takes from a history entry only what it put there', () => {
    expect(historyNote(null)).toEqual({});
    expect(historyNote('x')).toEqual({});
    expect(historyNote({ scrollY: '9', listSearch: 3 })).toEqual({});
    expect(historyNote({ scrollY: 9, listSearch: '?a=b', other: 1 })).toEqual({ scrollY: 9, listSearch: '?a=b' });
  });
});
