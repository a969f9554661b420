import { describe, expect, it } from 'vitest';
import { assumptions } from '../../../api/planning/assumptions.ts';
import { DEFAULT_SETTINGS } from '../../../etl/model/settings.ts';
import { changesOf, codesAsSaid } from '../../../web/settings/settings-changes.ts';
import { settingRows } from '../../../web/settings/setting-rows.ts';
import { FIELDS, fieldText, patchOf, undoOf, valueOf } from '../../../web/settings/settings-fields.ts';

const settings = { ...DEFAULT_SETTINGS, systemCodes: { '32': 'battery' as const } };
const answer = { version: '1', settings, defaults: DEFAULT_SETTINGS, assumptions: assumptions(settings) };
const patch = (typed: Record<string, string>) => patchOf(new Map(Object.entries(typed)), settings);

describe('what is typed', () => {
  it('as it stands changes nothing', () => {
    expect(patch({})).toEqual({ patch: {}, refusals: new Map(), count: 0 });
    const standing = Object.fromEntries(FIELDS.map((field) => [field.setting, fieldText(field, settings)]));
    expect(patch(standing).count).toBe(0);
  });

  it('becomes minor units, a comma being a point; costs go whole', () => {
    expect(patch({ roadCallMinor: '600', 'costs.battery.partsMinor': ' 310,5 ' })).toEqual({
      patch: {
        roadCallMinor: 60_000,
        costs: { battery: { partsMinor: 31_050, laborHours: 0.75 }, starter: settings.costs.starter },
      },
      refusals: new Map(),
      count: 2,
    });
    // 1.15 × 100 is 114.99999999999999 in binary.
    expect(patch({ roadCallMinor: '1.15' }).patch).toEqual({ roadCallMinor: 115 });
  });

  it.each([
    ['roadCallMinor', '-1', /An amount in USD/],
    ['roadCallMinor', '1.234', /at most 2 decimals/],
    ['roadCallMinor', '', /An amount/],
    ['roadCallMinor', '99999999999', /More than/],
    ['downtimeHoursAtVisit', 'two', /A number from 0 to 10000/],
    ['assumedVisitDays', '0', /A whole number from 1 to 1826/],
    ['assumedVisitDays', '1.5', /A whole number/],
    ['currency', 'dollars', /ISO 4217/],
    ['timeZone', ' ', /IANA/],
  ])('%s %s is refused', (setting, text, words) => {
    const { refusals, patch: sent } = patch({ [setting]: text });
    expect([...refusals.keys()]).toContain(setting);
    expect(refusals.get(setting)).toMatch(words);
    expect(sent).not.toHaveProperty(setting);
  });

  it('another currency takes the amounts on the page as they stand', () => {
    const { patch: sent, refusals } = patch({ currency: 'JPY' });
    expect(refusals.size).toBe(0);
    // USD 491.00 is 49,100 cents; JPY 491 is 491.
    expect(sent).toMatchObject({ currency: 'JPY', roadCallMinor: 491, costs: { battery: { partsMinor: 320 } } });
    expect(patch({ currency: 'EUR' }).patch).toEqual({ currency: 'EUR' });
  });

  it('is taken back by what stood before', () => {
    const change = patch({ roadCallMinor: '600' }).patch;
    expect(undoOf(change, settings)).toEqual({ roadCallMinor: 49_100 });
  });
});

describe('the rows of the page', () => {
  it('have a field for every assumption, each with its default and source', () => {
    const rows = settingRows({ answer, draft: new Map(), refusals: new Map() });
    expect(answer.assumptions.filter(({ setting }) => !rows.some((row) => row.setting === setting))).toEqual([]);
    expect(
      rows.every(({ name, source, text, defaultText }) => name !== '' && source !== '' && text === defaultText),
    ).toBe(true);
    expect(rows.every(({ setting }) => valueOf(settings, setting) !== undefined)).toBe(true);
  });
});

describe('the fleet’s own codes', () => {
  it('are sent as a whole map, with what is said and without what is taken away', () => {
    const said = changesOf({ answer, draft: new Map(), codeDraft: new Map([['13', 'none']]) });
    expect(said).toMatchObject({ count: 1, patch: { systemCodes: { '13': 'none', '32': 'battery' } } });
    const taken = changesOf({ answer, draft: new Map(), codeDraft: new Map([['32', null]]) });
    expect(taken.patch).toEqual({ systemCodes: {} });
    const same = changesOf({ answer, draft: new Map(), codeDraft: new Map([['32', 'battery']]) });
    expect(same).toMatchObject({ count: 0, patch: {} });
  });

  it('show what was said before it is saved', () => {
    const code = (name: string) => ({ code: name, orders: 1, component: null, read: null, example: '' });
    const shown = codesAsSaid([code('32'), code('13')], settings.systemCodes, new Map([['13', 'starter']]));
    expect(shown.map(({ component }) => component)).toEqual(['battery', 'starter']);
    expect(codesAsSaid([code('32')], settings.systemCodes, new Map([['32', null]]))[0]!.component).toBeNull();
  });
});
