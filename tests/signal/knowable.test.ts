import { describe, expect, it } from 'vitest';
import { isKnowable } from '../simulated-bench/knowable.ts';
import type { Log, LoggedCrank, LoggerKind } from '../simulated-bench/logger.ts';
import { simulateLogs } from '../simulated-bench/simulate.ts';

/** Any log with a crank in it, changed as a test needs it. */
const base = Array.from({ length: 9 }, (_, k) => simulateLogs(k + 1, [200])[0]!).find(
  ({ cranks }) => cranks.length > 0,
)!;
const quiet = { ...base.logger.logs, request: false, control: false };
function knowable(crank: Partial<LoggedCrank>, logger: Partial<LoggerKind> = {}): boolean {
  const log: Log = { ...base, logger: { ...base.logger, stepVolts: 0.01, noiseVolts: 0.01, logs: quiet, ...logger } };
  const click = { pattern: 'solenoid_only', view: 'whole', onset: 3, release: 4, restVolts: 12.6 } as const;
  return isKnowable({ log, crank: { ...base.cranks[0]!, ...click, dipVolts: 12.3, sampledDip: 12.3, ...crank } });
}

describe('what a log holds enough of to be known', () => {
  it('a fall under one step of the sensor, or under the noise of all its samples together, is none', () => {
    expect(knowable({})).toBe(true);
    expect(knowable({ dipVolts: 12.55 }, { stepVolts: 0.1 })).toBe(false);
    // 0.1 V in 10 samples of 0.06 V: 5.3 standard deviations of their mean; in 20 samples 7.5.
    expect(knowable({ dipVolts: 12.5 }, { rateHz: 10, noiseVolts: 0.06 })).toBe(false);
    expect(knowable({ dipVolts: 12.5 }, { rateHz: 20, noiseVolts: 0.06 })).toBe(true);
  });

  it('one end of a step is any load, but for a request; an engine that turns shows otherwise', () => {
    expect(knowable({ view: 'begun' })).toBe(false);
    expect(knowable({ view: 'begun' }, { logs: { ...quiet, request: true } })).toBe(true);
    expect(knowable({ view: 'begun', pattern: 'slow', dipVolts: 7 })).toBe(true);
  });

  it('a free spin is told by its inrush: a quarter of it must lie on a sample', () => {
    expect(knowable({ pattern: 'free_spin', dipVolts: 8.6, sampledDip: 11.7 })).toBe(false);
    expect(knowable({ pattern: 'free_spin', dipVolts: 8.6, sampledDip: 11.5 })).toBe(true);
  });
});
