import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { load, storeFolder } from '../support/store-folder.ts';
import { capability, coldNeed, type Battery } from './battery.ts';
import { dayOfDate } from './calendar.ts';
import { Draws } from './draws.ts';
import { lifeOn, readTruth, type Truth } from './judge/truth.ts';
import { starterChances } from './true-chance.ts';
import { worldOf } from './world.ts';
import { writeFleet } from './write-fleet.ts';

const ORIGINS = [400, 490, 580];
const OPTIONS = { world: worldOf('south'), units: 80, days: 700, chanceDays: ORIGINS };

let folder: Awaited<ReturnType<typeof storeFolder>>;
let truth: Truth;
let firstDay = 0;

beforeAll(async () => {
  folder = await storeFolder();
  const options = { ...OPTIONS, seed: 4, out: folder.path('data'), truth: folder.path('truth') };
  firstDay = (await writeFleet(options)).firstDay;
  truth = readTruth(folder.path('truth'));
});
afterAll(async () => folder.remove());

const read = (name: string) => readFileSync(folder.path(name), 'utf8');

describe('a fleet of another simulator', () => {
  it('is the same for the same seed and another for another', async () => {
    const small = { ...OPTIONS, units: 2, days: 60, chanceDays: [30] };
    for (const [name, seed] of [
      ['a', 1],
      ['b', 1],
      ['c', 2],
    ] as const)
      await writeFleet({ ...small, seed, out: folder.path(name), truth: folder.path(`${name}-truth`) });
    expect(read('b/cranks.csv')).toBe(read('a/cranks.csv'));
    expect(read('b-truth/true-chances.csv')).toBe(read('a-truth/true-chances.csv'));
    expect(read('c/cranks.csv')).not.toBe(read('a/cranks.csv'));
  });

  it('is read by the program without a row set aside', async () => {
    const small = { ...OPTIONS, units: 3, days: 90, chanceDays: [] };
    await writeFleet({ ...small, seed: 1, out: folder.path('few'), truth: folder.path('few-truth') });
    const report = await load(folder.path('store.sqlite'), [folder.path('few')]);
    expect(report.setAside).toBe(0);
    expect(report.taken).toBeGreaterThan(500);
    expect(report.waiting).toEqual([]);
  });

  it('fails as often as its true chances say, within four standard deviations', () => {
    for (const component of ['battery', 'starter']) {
      let [expected, spread, failed] = [0, 0, 0];
      for (const life of truth.lives.filter((each) => each.component === component))
        for (const origin of ORIGINS.map((day) => firstDay + day)) {
          if (lifeOn([life], origin) === null || life.end === 'planned' || life.end === 'wrong_part') continue;
          const chance = truth.chance(life, origin)!.perfect;
          expected += chance;
          spread += chance * (1 - chance);
          failed += Number(life.end === 'failure' && life.removedDay <= origin + 90);
        }
      expect(failed).toBeGreaterThan(5);
      expect(Math.abs(failed - expected)).toBeLessThan(4 * Math.sqrt(spread));
    }
  });

  it('gives failing parts a higher true chance than the others', () => {
    const chances = (failing: boolean) =>
      truth.lives.flatMap((life) =>
        ORIGINS.map((day) => firstDay + day)
          .filter((day) => lifeOn([life], day) !== null)
          .filter((day) => (life.end === 'failure' && life.removedDay <= day + 90) === failing)
          .map((day) => truth.chance(life, day)!.perfect),
      );
    const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
    expect(mean(chances(true))).toBeGreaterThan(5 * mean(chances(false)));
  });
});

describe('its laws', () => {
  const world = worldOf('north');

  it('ask of a battery in the cold what the training text says', () => {
    expect(coldNeed(27)).toBeCloseTo(1, 9);
    expect(coldNeed(0)).toBeCloseTo(1.55 / 0.65, 9);
    expect(coldNeed(-18)).toBeCloseTo(2.1 / 0.4, 9);
    expect(coldNeed(-24)).toBeGreaterThan(coldNeed(-18));
  });

  it('take little from a battery at first and much at the end', () => {
    const worn = (wear: number) => capability({ wear, power: 4 } as Battery, world);
    expect(worn(0)).toBe(1);
    expect(worn(0) - worn(0.5)).toBeLessThan((worn(0.5) - worn(1)) / 2);
  });

  it('leave a new starter nothing but its sudden failures', () => {
    const starter = { fittedDay: 0, wear: 0, ratePerStart: 1e-5, power: 4, limit: 1, onset: 0.8, broken: false };
    const flat = new Float32Array(20_000 * 90);
    const ahead = { paths: 20_000, days: 90, meanC: flat, heat: flat, need: flat, fromDay: dayOfDate('2026-01-01') };
    const use = { startsPerDay: 4, drivenShare: 1, heatK: 0 };
    const { p90 } = starterChances(starter, { world, use, ahead, draws: new Draws(1, 'test') });
    // Broken within the horizon less the day or so until another is fitted.
    expect(p90).toBeCloseTo(1 - Math.exp((-world.starter.suddenPerYear * 90) / 365.25), 2);
  });
});
