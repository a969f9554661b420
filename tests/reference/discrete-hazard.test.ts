import { describe, expect, it } from 'vitest';
import { poissonRidgeFit, type PoissonRows } from '../../etl/stats/poisson-ridge.ts';
import { expectAllClose, expectClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

/** Weeks in remission, 21 treated with 6-mercaptopurine and 21 not (Freireich and others 1963; Gehan 1965). */
const { treated, time, event } = referenceColumns('six-mp.csv', ['treated', 'time', 'event']);
const FREE = [Infinity, Infinity, Infinity, Infinity];

describe('a hazard in three pieces, as R glm of the Poisson family', () => {
  const ENDS = [5, 10, Infinity];

  /** Each life cut at weeks 5 and 10, its time watched in the offset. */
  function pieces(): PoissonRows {
    const rows = [...time].flatMap((end, i) =>
      ENDS.flatMap((to, piece) => {
        const from = ENDS[piece - 1] ?? 0;
        if (end <= from) return [];
        return [{ piece, treated: treated[i]!, days: Math.min(end, to) - from, failed: end <= to ? event[i]! : 0 }];
      }),
    );
    const column = (of: (row: (typeof rows)[number]) => number) => Float64Array.from(rows, of);
    return {
      columns: [
        column(() => 1),
        column(({ piece }) => Number(piece === 1)),
        column(({ piece }) => Number(piece === 2)),
        column((row) => row.treated),
      ],
      offset: column(({ days }) => Math.log(days)),
      events: column(({ failed }) => failed),
      weight: column(() => 1),
    };
  }
  const { computedList, tolerance } = referenceSet('sixMpPieces');

  it('unpenalised', () => {
    const fit = poissonRidgeFit(pieces(), FREE);
    expectAllClose(fit.coefficients, computedList('coefficient'), tolerance);
    const variances = [0, 1, 2, 3].map((j) => fit.covariance[j * 4 + j]!);
    expectAllClose(variances, computedList('variance'), 1e-5);
    expect(fit.effective).toBe(4);
  });

  it('with the treatment drawn to nothing by a penalty', () => {
    expectAllClose(
      poissonRidgeFit(pieces(), [Infinity, Infinity, Infinity, 0.5]).coefficients,
      computedList('held'),
      tolerance,
    );
  });

  it('in one piece it is events over time watched: 21/182 a week without and 9/359 with the drug', () => {
    const whole: PoissonRows = {
      columns: [new Float64Array(42).fill(1), treated],
      offset: time.map(Math.log),
      events: event,
      weight: new Float64Array(42).fill(1),
    };
    expectAllClose(
      poissonRidgeFit(whole, [Infinity, Infinity]).coefficients,
      [Math.log(21 / 182), Math.log(9 / 359 / (21 / 182))],
      1e-9,
    );
  });

  it('expects as many failures as came, however the lives are cut: by week as by three pieces', () => {
    const { columns, offset, weight } = pieces();
    const fit = poissonRidgeFit(pieces(), FREE);
    const expected = offset.reduce((sum, log, row) => {
      const eta = columns.reduce((total, column, j) => total + fit.coefficients[j]! * column[row]!, log);
      return sum + weight[row]! * Math.exp(eta);
    }, 0);
    expectClose(expected, 30, 1e-9);
    expectAllClose(poissonRidgeFit(byWeek(pieces()), FREE).coefficients, fit.coefficients, 1e-9);
  });

  it('says by its evidence how likely what came is under a penalty, as the integral over the coefficient does', () => {
    const one: PoissonRows = {
      columns: [treated.map((value) => value - 0.5)],
      offset: time.map((weeks) => Math.log((30 * weeks) / 541)),
      events: event,
      weight: new Float64Array(42).fill(1),
    };
    const [tight, wide] = [0.3, 3].map((sd) => poissonRidgeFit(one, [sd]).logEvidence);
    expect(Math.abs(wide! - tight! - (logIntegral(one, 3) - logIntegral(one, 0.3)))).toBeLessThan(0.02);
    expect(wide).toBeGreaterThan(tight!);
  });
});

/** Every row cut into pieces of one week at most, the failure in the last. */
function byWeek({ columns, offset, events }: PoissonRows): PoissonRows {
  const cut = [...offset].flatMap((log, row) => {
    const weeks = Math.exp(log);
    const count = Math.max(1, Math.ceil(weeks - 1e-9));
    return Array.from({ length: count }, (_, k) => ({ row, log: Math.log(weeks / count), last: k === count - 1 }));
  });
  return {
    columns: columns.map((column) => Float64Array.from(cut, ({ row }) => column[row]!)),
    offset: Float64Array.from(cut, ({ log }) => log),
    events: Float64Array.from(cut, ({ row, last }) => (last ? events[row]! : 0)),
    weight: new Float64Array(cut.length).fill(1),
  };
}

/** log ∫ likelihood × normal density of the coefficient, by a plain sum. */
function logIntegral({ columns, offset, events }: PoissonRows, sd: number): number {
  const step = 0.001;
  let sum = 0;
  for (let b = -6; b <= 6; b += step) {
    let log = -0.5 * (b / sd) ** 2 - Math.log(sd);
    for (let row = 0; row < offset.length; row++) {
      const eta = offset[row]! + b * columns[0]![row]!;
      log += events[row]! * eta - Math.exp(eta);
    }
    sum += step * Math.exp(log);
  }
  return Math.log(sum);
}
