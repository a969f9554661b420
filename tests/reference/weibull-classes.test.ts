import { describe, expect, it } from 'vitest';
import { fitWeibullClasses } from '../../etl/stats/weibull-classes.ts';
import type { Lives } from '../../etl/stats/weibull-fit.ts';
import { expectAllClose, expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

/** Weeks in remission, 21 treated with 6-mercaptopurine and 21 not (Freireich and others 1963; Gehan 1965). */
const { treated, time, event } = referenceColumns('six-mp.csv', ['treated', 'time', 'event']);

function classOf(value: 0 | 1): Lives {
  const own = (column: Float64Array) => column.filter((_, i) => treated[i] === value);
  const exit = own(time);
  return { entry: new Float64Array(exit.length), exit, event: Uint8Array.from(own(event)) };
}
const classes = [classOf(0), classOf(1)];

describe('two classes of Weibull lives, as R survreg', () => {
  it('with one shape: 6-mercaptopurine multiplies the time in remission by e^1.267', () => {
    const { computed, tolerance } = referenceSet('sixMp');
    const fit = fitWeibullClasses(classes, { scaleSd: [0, Infinity], shapeSd: [0, 0] });
    expect(fit.converged).toBe(true);
    expectClose(Math.log(fit.scale), computed('logScale'), tolerance);
    expectClose(Math.log(fit.classes[1]!.scale / fit.classes[0]!.scale), computed('treated'), tolerance);
    expectClose(1 / fit.shape, computed('sigma'), tolerance);
    expect(fit.classes.map(({ shape }) => shape)).toEqual([fit.shape, fit.shape]);
    expectClose(fit.logLikelihood, computed('logLikelihood'), 1e-9);
    expectClose(fit.covariance[0][0], computed('varianceLogScale'), 1e-5);
    expectClose(fit.covariance[1][1], computed('varianceLogShape'), 1e-5);
  });

  it('with a shape for each', () => {
    const { computed, computedList, tolerance } = referenceSet('sixMpStrata');
    const fit = fitWeibullClasses(classes, { scaleSd: [0, Infinity], shapeSd: [0, Infinity] });
    expectClose(Math.log(fit.classes[0]!.scale), computed('logScale'), tolerance);
    expectClose(Math.log(fit.classes[1]!.scale / fit.classes[0]!.scale), computed('treated'), tolerance);
    expectAllClose(
      fit.classes.map(({ shape }) => 1 / shape),
      computedList('sigma'),
      tolerance,
    );
    expectClose(fit.logLikelihood, computed('logLikelihood'), 1e-9);
  });

  it('held to the whole: the fit of all together', () => {
    const fit = fitWeibullClasses(classes, { scaleSd: [0, 0], shapeSd: [0, 0] });
    expectClose(fit.logLikelihood, referenceSet('sixMp').computed('null'), 1e-9);
  });
});

describe('two classes watched from an age (Woolson 1981)', () => {
  it('women beside men, left-truncated at admission, as R optim', () => {
    const { computed, tolerance } = referenceSet('psychBySex');
    const columns = referenceColumns('psych.csv', ['entry', 'exit', 'event', 'female']);
    const [men, women] = [0, 1].map((sex) => {
      const own = (column: Float64Array) => column.filter((_, i) => columns.female[i] === sex);
      return { entry: own(columns.entry), exit: own(columns.exit), event: Uint8Array.from(own(columns.event)) };
    });
    const fit = fitWeibullClasses([men!, women!], { scaleSd: [0, Infinity], shapeSd: [0, 0] });
    expectClose(Math.log(fit.scale), computed('logScale'), tolerance);
    expectClose(Math.log(fit.shape), computed('logShape'), tolerance);
    expectClose(Math.log(fit.classes[1]!.scale / fit.scale), computed('female'), 1e-5);
    expectClose(fit.logLikelihood, computed('logLikelihood'), 1e-9);
  });
});
