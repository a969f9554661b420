import type { WorkOrder } from '../../etl/model/work-order.ts';
import { asOf, dateUs } from '../../etl/model/time.ts';
import { backtestForecast, inventedSummary } from './backtest-forecasts.ts';
import { awkwardFleet } from './fleet-app.ts';
import { memoryStore, type MemoryStore } from './memory-store.ts';
import { exponentialSurvival, outlook } from './outlooks.ts';
import { batteryLife } from './service-lives.ts';
import { workOrder } from './work-orders.ts';

export const THEN = asOf('2026-01-10');
export const NOW = asOf('2026-03-10');
/** U1's battery as known then, and as it went 40 days later. */
export const IN_SERVICE = batteryLife({ fittedOn: '2024-01-01', watchedToOn: '2026-01-10' });
export const FAILED = batteryLife({
  fittedOn: '2024-01-01',
  removedOn: '2026-02-19',
  watchedToOn: '2026-02-19',
  end: 'failure',
  workOrder: 'W/9',
});
export const SAID = outlook({
  survival: exponentialSurvival(100),
  windowEarlyOn: '2026-01-21',
  windowMidOn: '2026-03-20',
  windowLateOn: '2026-08-28',
});

const order = (name: string, on: string, known: Partial<WorkOrder> = {}) =>
  workOrder({ workOrder: name, openedUs: dateUs(on), closedUs: dateUs(on), ...known });

/** A store assessed on two days, between which a battery failed, and walked through by a backtest. */
export async function twiceAssessed(): Promise<MemoryStore> {
  const workOrders = [
    order('W/8', '2025-12-01', { complaint: 'slow crank', correction: 'checked battery', systemCode: '32' }),
    order('W/9', '2026-02-19', { complaint: 'no crank', correction: 'replaced batteries', systemCode: '32' }),
  ];
  const store = memoryStore({ ...awkwardFleet(), workOrders, newestUs: dateUs('2026-03-10') });
  const nothing = { trends: [], fleet: null };
  const inputs = await store.inputsVersion();
  await store.saveAssessment({ ...nothing, asOf: THEN, lives: [IN_SERVICE], outlooks: [SAID] }, 1, inputs);
  await store.saveAssessment({ ...nothing, asOf: NOW, lives: [FAILED], outlooks: [outlook()] }, 2, inputs);
  const forecasts = [
    backtestForecast({ asOfOn: '2025-08-01', pFail: 0.2 }),
    backtestForecast({ asOfOn: '2025-09-01', pFail: 0.3 }),
    backtestForecast({ asOfOn: '2025-09-01', unit: 'another' }),
  ];
  await store.saveBacktest({ ...inventedSummary(forecasts), forecasts }, 3, inputs);
  return store;
}
