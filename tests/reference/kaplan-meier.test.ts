import { describe, it } from 'vitest';
import { kaplanMeier, type WatchedLives } from '../../etl/stats/kaplan-meier.ts';
import { expectAllClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

function delayedEntry(file: string): WatchedLives {
  const { entry, exit, event } = referenceColumns(file, ['entry', 'exit', 'event']);
  return { entry, exit, event: Uint8Array.from(event) };
}

function fromNew(file: string): WatchedLives {
  const { time, event } = referenceColumns(file, ['time', 'event']);
  return { entry: new Float64Array(time.length), exit: time, event: Uint8Array.from(event) };
}

/** Standard error and interval are missing once survival is 0, there and here. */
function expectAsSurvfit(set: string, lives: WatchedLives): void {
  const { computedList, tolerance } = referenceSet(set);
  const estimate = kaplanMeier(lives);
  for (const name of ['time', 'atRisk', 'survival'] as const) {
    expectAllClose(estimate[name], computedList(name), tolerance);
  }
  for (const name of ['standardError', 'low', 'high'] as const) {
    expectAllClose(
      estimate[name].filter((value) => !Number.isNaN(value)),
      computedList(name),
      tolerance,
    );
  }
}

describe('Kaplan–Meier', () => {
  it('NIST/SEMATECH e-Handbook 8.2.1.5: six failures among twenty units, four withdrawn', () => {
    const steps = [19 / 20, 18 / 19, 16 / 17, 15 / 16, 13 / 14, 10 / 11];
    const products = steps.map((_, i) => steps.slice(0, i + 1).reduce((product, step) => product * step, 1));
    expectAllClose(kaplanMeier(fromNew('nist-kaplan-meier.csv')).survival, products, 1e-12);
    expectAsSurvfit('nistKaplanMeier', fromNew('nist-kaplan-meier.csv'));
  });

  it('five lives with delayed entry: a life counts at risk only from its entry on (lifelines tests; R survfit)', () => {
    const survival = kaplanMeier(delayedEntry('delayed-entry.csv')).survival;
    expectAllClose(
      survival.map((value) => Math.round(value * 1000) / 1000),
      referenceSet('delayedEntry').publishedList('survival'),
      1e-12,
    );
    expectAsSurvfit('delayedEntry', delayedEntry('delayed-entry.csv'));
  });

  it('21 treated with 6-mercaptopurine (Freireich and others 1963)', () => {
    const { treated, time, event } = referenceColumns('six-mp.csv', ['treated', 'time', 'event']);
    const own = (column: Float64Array) => column.filter((_, i) => treated[i] === 1);
    const lives = { entry: new Float64Array(21), exit: own(time), event: Uint8Array.from(own(event)) };
    expectAsSurvfit('sixMpKaplanMeier', lives);
  });

  it('inpatients by age, entering at admission (Woolson 1981; R survfit)', () => {
    expectAsSurvfit('psychKaplanMeier', delayedEntry('psych.csv'));
  });
});
