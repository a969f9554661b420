import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FinishedTable } from '../../etl/model/crank.ts';
import { OUTCOMES, qualityWords } from '../../etl/model/words.ts';
import { HAS_RECORDINGS, recording, SKIPPED } from '../support/recordings.ts';
import { load, storeFolder, withStore } from '../support/store-folder.ts';

/** Public CAN logs of engine starts, decoded: through the very load that a user calls. */
describe.skipIf(!HAS_RECORDINGS)(`recorded engine starts${SKIPPED}`, () => {
  let folder: Awaited<ReturnType<typeof storeFolder>>;
  const cranks = new Map<string, FinishedTable['columns']>();
  const lowest = new Map<string, number>();

  beforeAll(async () => {
    folder = await storeFolder();
    const names = ['units.csv', ...['A', 'C', 'E', 'G', 'K'].map((letter) => `start-${letter}.csv`)];
    await load(
      folder.path('starts.sqlite'),
      names.map((name) => recording(name)!),
    );
    await withStore(folder.path('starts.sqlite'), async (store) => {
      for (const engine of await store.engines()) cranks.set(engine.unit, (await store.finished(engine))!.columns);
    });
    for (const letter of ['A', 'C', 'E', 'G']) {
      const lines = (await readFile(recording(`start-${letter}.csv`)!, 'utf8')).trimEnd().split('\n').slice(1);
      lowest.set(`R-${letter}`, Math.min(...lines.map((line) => Number(line.split(',')[2]))));
    }
  });
  afterAll(async () => folder.remove());

  it('idling and earlier loads give no false crank', () => {
    expect([...cranks].map(([unit, { timeUs }]) => [unit, timeUs.length])).toEqual([
      ['R-A', 1],
      ['R-C', 1],
      ['R-E', 2],
      ['R-G', 1],
      ['R-K', 1],
    ]);
  });

  it.each(['A', 'C', 'E', 'G'])('%s: the dip is the lowest sample of the file', (letter) => {
    expect(cranks.get(`R-${letter}`)!.dipVolts.at(-1)).toBeCloseTo(lowest.get(`R-${letter}`)!, 9);
  });

  it('E is one start of two cranks, the first begun before the record', () => {
    const { startUs, quality, dipVolts } = cranks.get('R-E')!;
    expect(startUs[0]).toBe(startUs[1]);
    expect(qualityWords(quality[0]!)).toContain('begun_before_record');
    expect(dipVolts[0]).toBeNaN();
  });

  it("ripple speed lies within 5 % of the engine's own reading: E 206–223 rpm, G 180–207 rpm", () => {
    const e = cranks.get('R-E')!;
    for (const [index, hz] of [...e.rippleHz].entries()) {
      expect(hz).toBeGreaterThan(0);
      expect(Math.abs(e.crankRpm[index]! / 214.5 - 1)).toBeLessThan(0.05);
    }
    const g = cranks.get('R-G')!;
    expect(g.rippleHz[0]).toBeGreaterThan(0);
    expect(Math.abs(g.crankRpm[0]! / 194 - 1)).toBeLessThan(0.05);
  });

  it('C turns for fewer than four compressions: no speed by ripple rather than a guess', () => {
    expect(cranks.get('R-C')!.rippleHz[0]).toBeNaN();
  });

  it('K at 10 Hz leaves dip, sag ratio and ripple empty, with the reason', () => {
    const { dipVolts, sagRatio, rippleHz, quality } = cranks.get('R-K')!;
    expect([dipVolts[0], sagRatio[0], rippleHz[0]]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(qualityWords(quality[0]!)).toContain('rate_too_low');
  });

  it('A: six cylinders speed up from about 165 to 200 rpm; the mean by ripple lies between', () => {
    const { crankRpm, quality } = cranks.get('R-A')!;
    expect(crankRpm[0]).toBeGreaterThan(165);
    expect(crankRpm[0]).toBeLessThan(200);
    expect(qualityWords(quality[0]!)).not.toContain('rpm_logged');
  });

  it("E's second crank follows an engine that ran and stalled; A's does not", () => {
    expect(qualityWords(cranks.get('R-E')!.quality[1]!)).toContain('restarted_running');
    expect(qualityWords(cranks.get('R-A')!.quality[0]!)).not.toContain('restarted_running');
  });

  it("release is the step back up, where the engine's own reading passes 700 to 1000 rpm, not the alternator's rise after it", () => {
    const { timeUs: e, crankSeconds: eSeconds } = cranks.get('R-E')!;
    expect(e[1]! / 1e6 + eSeconds[1]!).toBeCloseTo(Date.parse('2023-12-08T01:19:37.035Z') / 1e3, 1);
    const { timeUs: c, crankSeconds: cSeconds } = cranks.get('R-C')!;
    expect(c[0]! / 1e6 + cSeconds[0]!).toBeCloseTo(Date.parse('2024-01-16T19:20:20.07Z') / 1e3, 1);
    const { timeUs: k, crankSeconds: kSeconds } = cranks.get('R-K')!;
    expect(k[0]! / 1e6 + kSeconds[0]!).toBeCloseTo(Date.parse('2025-02-13T16:30:33.74Z') / 1e3, 1);
  });

  it('E ran after either crank, though it stalled: neither has failed', () => {
    const failed = OUTCOMES.indexOf('failed');
    for (const letter of ['A', 'C', 'E', 'G', 'K']) expect(cranks.get(`R-${letter}`)!.outcome).not.toContain(failed);
  });

  it('A begins at the inrush, after the loads that pull rest to 11.4 V', () => {
    const { restVolts, crankSeconds } = cranks.get('R-A')!;
    expect(restVolts[0]).toBeCloseTo(11.4, 1);
    expect(crankSeconds[0]).toBeGreaterThan(0.6);
    expect(crankSeconds[0]).toBeLessThan(0.9);
  });
});
