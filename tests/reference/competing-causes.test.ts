import { describe, expect, it } from 'vitest';
import { aalenJohansen } from '../../etl/stats/aalen-johansen.ts';
import { kaplanMeier } from '../../etl/stats/kaplan-meier.ts';
import { expectAllClose } from '../support/close.ts';
import { referenceColumns, referenceSet } from '../support/reference-data.ts';

const { distance, cause } = referenceColumns('shock-absorber.csv', ['distance', 'cause']);
const lives = { entry: new Float64Array(distance.length), exit: distance, cause: Uint8Array.from(cause) };
const AT = [10_000, 20_000, 25_000, 27_500];

describe('Aalen–Johansen', () => {
  it('two modes of failure of shock absorbers (O’Connor 1985), as survfit', () => {
    const set = referenceSet('shockAbsorber');
    const curve = aalenJohansen(lives);
    for (const mode of [1, 2]) {
      const incidence = AT.map((t) => curve.incidence(mode, t));
      expectAllClose(incidence, set.computedList(`incidence${mode}`), 1e-9);
      expectAllClose(
        incidence.map((value) => Math.round(value * 1e7) / 1e7),
        set.publishedList(`incidence${mode}`),
        1e-9,
      );
    }
  });

  it('causes and what is left add up to one; one minus Kaplan–Meier per cause would add up to more', () => {
    const curve = aalenJohansen(lives);
    const end = AT.at(-1)!;
    const left = curve.survival[curve.time.findLastIndex((t) => t <= end)]!;
    expect(curve.incidence(1, end) + curve.incidence(2, end) + left).toBeCloseTo(1, 12);
    const alone = [1, 2].map((mode) => {
      const { time, survival } = kaplanMeier({ ...lives, event: lives.cause.map((each) => Number(each === mode)) });
      return 1 - survival[time.findLastIndex((t) => t <= end)]!;
    });
    expect(alone[0]! + alone[1]! + left).toBeGreaterThan(1.05);
  });

  it('with delayed entry, as survfit: a life is at risk from its entry on', () => {
    const { entry, exit } = referenceColumns('delayed-entry.csv', ['entry', 'exit']);
    const curve = aalenJohansen({ entry, exit, cause: Uint8Array.of(1, 2, 1, 2, 1) });
    for (const cause of [1, 2])
      expectAllClose(
        [2, 3, 4, 5, 10].map((t) => curve.incidence(cause, t)),
        referenceSet('delayedCauses').computedList(`incidence${cause}`),
        1e-9,
      );
  });
});
