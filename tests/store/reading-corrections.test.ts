import { describe, expect, it } from 'vitest';
import { freshStore } from '../support/open-stores.ts';

const fresh = freshStore();
const CORRECTION = {
  unit: 'T-014',
  workOrder: '007',
  readings: [{ component: 'starter' as const, event: 'replaced' as const, unplanned: true, position: 'left' }],
  createdUs: 5,
};

describe('corrections of how a record was read', () => {
  it('stand until they are taken back', async () => {
    const store = fresh.store();
    const made = await store.correctReading(CORRECTION);
    expect(made).toEqual({ ...CORRECTION, correctionId: 1, withdrawnUs: null });
    expect(await store.readingCorrections()).toEqual([made]);
    expect(await store.readingCorrections('T-015')).toEqual([]);
    await store.withdrawReading('T-014', '007', 9);
    expect(await store.readingCorrections()).toEqual([]);
    await expect(store.withdrawReading('T-014', '007', 9)).rejects.toThrow(
      'withdraw requires a correction that stands, got T-014 007 (work orders)',
    );
  });

  it('give way to a newer one of the same record alone', async () => {
    const store = fresh.store();
    await store.correctReading(CORRECTION);
    await store.correctReading({ ...CORRECTION, unit: 'T-015' });
    const newer = { ...CORRECTION, readings: [{ ...CORRECTION.readings[0]!, position: 'right' }], createdUs: 8 };
    await store.correctReading(newer);
    const standing = await store.readingCorrections();
    expect(standing.map(({ unit, createdUs }) => [unit, createdUs])).toEqual([
      ['T-015', 5],
      ['T-014', 8],
    ]);
  });

  it('change the version of what assessments rest on, as mapped codes do; other settings do not', async () => {
    const store = fresh.store();
    const before = await store.inputsVersion();
    await store.saveSettings({ roadCallMinor: 1 });
    expect(await store.inputsVersion()).toBe(before);
    await store.correctReading(CORRECTION);
    const corrected = await store.inputsVersion();
    await store.saveSettings({ systemCodes: { '32': 'battery' } });
    const coded = await store.inputsVersion();
    expect(new Set([before, corrected, coded]).size).toBe(3);
    await store.saveSettings({ systemCodes: {} });
    await store.withdrawReading('T-014', '007', 9);
    expect(await store.inputsVersion()).toBe(before);
  });
});
