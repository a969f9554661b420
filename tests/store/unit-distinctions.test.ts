import { describe, expect, it } from 'vitest';
import { undecided } from '../../etl/alike-units.ts';
import { acceptAliases, aliasOffers, askAgain, keepApart, takeBackSaid } from '../../etl/unit-aliases.ts';
import { imported, lined } from '../support/imported.ts';
import { freshStore } from '../support/open-stores.ts';
import { unit } from '../support/units.ts';

const fresh = freshStore();

async function fleetOf(...names: string[]) {
  const store = fresh.store();
  await imported(store, 'a.csv', async (writer) => {
    for (const name of names) await writer.units(lined(unit({ unit: name })));
  });
  return store;
}

describe('what is still to be said of a group', () => {
  const apart =
    (...pairs: string[]) =>
    (one: string, other: string) =>
      pairs.includes(one + other) || pairs.includes(other + one);

  it.each<[string, string[], string[][]]>([
    ['nothing was said', [], [['A', 'b', 'c']]],
    ['of one', ['Ab'], [['A', 'c']]],
    ['of one, said the other way round', ['bA'], [['A', 'c']]],
    ['the first is alone: the others may be one', ['Ab', 'Ac'], [['b', 'c']]],
    ['all are apart', ['Ab', 'Ac', 'bc'], []],
  ])('%s', (_, said, left) => expect(undecided(['A', 'b', 'c'], apart(...said))).toEqual(left));
});

describe('two units that look like one', () => {
  it('are offered no more; a third that looks like them still is', async () => {
    const store = await fleetOf('T-014', 'T014', 't 014');
    const said = await keepApart(store, { unit: 'T-014', spellings: ['T014'], atUs: 5 });
    expect(said).toEqual([{ distinctionId: 1, unit: 'T-014', other: 'T014', createdUs: 5, withdrawnUs: null }]);
    expect(await keepApart(store, { unit: 'T014', spellings: ['T-014'], atUs: 9 })).toEqual(said);
    expect(await aliasOffers(store)).toEqual([{ unit: 'T-014', spellings: ['t 014'] }]);
    await keepApart(store, { unit: 'T-014', spellings: ['T014', 't 014'], atUs: 9 });
    expect(await store.unitDistinctions()).toHaveLength(3);
    expect(await aliasOffers(store)).toEqual([]);
  });

  it('are offered again once that is taken back: of the pair, or of all that was said of one of them', async () => {
    const store = await fleetOf('T-014', 'T014', 't 014');
    await keepApart(store, { unit: 'T-014', spellings: ['T014', 't 014'], atUs: 5 });
    expect(await askAgain(store, ['t 014', 'T014'], 9)).toMatchObject([
      { unit: 'T014', other: 't 014', withdrawnUs: 9 },
    ]);
    expect(await aliasOffers(store)).toEqual([{ unit: 'T014', spellings: ['t 014'] }]);
    expect(await takeBackSaid(store, 'T-014', 9)).toMatchObject({
      aliases: [],
      apart: [{ other: 'T014' }, { other: 't 014' }],
    });
    expect(await aliasOffers(store)).toEqual([{ unit: 'T-014', spellings: ['T014', 't 014'] }]);
    await expect(takeBackSaid(store, 'T-014', 9)).rejects.toThrow(
      'alias remove requires a spelling of which something was said, got T-014 (see alias list)',
    );
  });

  it('an alias ends what was said against it, and no other', async () => {
    const store = await fleetOf('T-014', 'T014', 't 014');
    await keepApart(store, { unit: 'T-014', spellings: ['T014', 't 014'], atUs: 5 });
    await acceptAliases(store, { unit: 'T-014', spellings: ['T014'], atUs: 9 });
    expect((await store.unitDistinctions()).map(({ unit: one, other }) => [one, other])).toEqual([
      ['T-014', 't 014'],
      ['T014', 't 014'],
    ]);
    expect(await takeBackSaid(store, 'T014', 9)).toMatchObject({
      aliases: [{ spelling: 'T014' }],
      apart: [{ unit: 'T014', other: 't 014' }],
    });
  });

  it('refuses what no unit number is, and what counts as one, and keeps nothing', async () => {
    const store = await fleetOf('T-014', 'T014');
    const wish = (one: string, ...spellings: string[]) => keepApart(store, { unit: one, spellings, atUs: 1 });
    await expect(wish('T-014', 'T-014')).rejects.toThrow(
      'alias requires another spelling of the unit, got T-014 (alias)',
    );
    await expect(wish('T-014', 'T014', ' T')).rejects.toThrow('without blanks around it, got " T" (alias)');
    await acceptAliases(store, { unit: 'T-014', spellings: ['T014'], atUs: 1 });
    await expect(wish('T-014', 't 014', 'T014')).rejects.toThrow(
      'requires spellings that count as two units, got T014',
    );
    expect(await store.unitDistinctions()).toEqual([]);
  });
});
