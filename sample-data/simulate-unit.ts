import { dateFromDay } from './calendar.ts';
import type { Climate } from './climate.ts';
import type { EngineState } from './engine-state.ts';
import type { LogSpan } from './fleet.ts';
import { batteryLife, starterLife } from './life-ledger.ts';
import type { TrueLife } from './life-ledger.ts';
import { componentLines, unitLine } from './registers.ts';
import type { RepairFact } from './repair-fact.ts';
import { hiddenLine, lifeLine, orderLine, stateLine } from './truth.ts';
import type { HiddenNote } from './truth.ts';
import { createUnitLog } from './unit-log.ts';
import type { UnitLog } from './unit-log.ts';
import { unitHistory } from './unit-history.ts';
import type { UnitHistory } from './unit-history.ts';
import type { UnitPlan } from './unit-plan.ts';
import { writeWorkOrders } from './work-orders.ts';

/** One unit, ready to be written. Truth lines are empty where nobody asked for them. */
export type SimulatedUnit = {
  engines: number;
  unitLine: string;
  componentLines: string[];
  log: UnitLog;
  orderLines: string[];
  lives: TrueLife[];
  truth: { lives: string[]; states: string[]; hidden: string[]; work_orders: string[] };
};

/** How far the truth looks past the log for the failures of parts still in service. */
export const AFTER_DAYS = 1096;

export type UnitSetting = { seed: number; climate: Climate; span: LogSpan; waveformShare: number; withTruth: boolean };

export function simulateUnit(plan: UnitPlan, setting: UnitSetting): SimulatedUnit {
  const { span } = setting;
  const log = createUnitLog({ plan, ...setting, ...span });
  const seen: Seen = { facts: [], lives: [], hidden: hiddenSpells(plan), states: [], visitDays: [] };
  let watched = true;
  const history = unitHistory(plan, setting, {
    crank: (crank) => watched && log.take(crank),
    repaired: (fact) => watched && seen.facts.push(fact),
    lifeEnded: (life) => watched && seen.lives.push(life),
    hidden: (note) => watched && seen.hidden.push(note),
    visited: (day) => seen.visitDays.push(day),
    dayDone: (day, engines) => watched && setting.withTruth && noteStates(seen, plan, { day, engines }),
  });
  const registered = componentLines(plan, history.engines);
  for (let day = span.firstDay; day <= span.lastDay; day += 1) history.live(day);
  const fitted = history.engines.map((state) => ({ state, battery: state.battery, starter: state.starter }));
  watched = false;
  if (setting.withTruth && plan.outOfServiceDay === null) liveOn(history, fitted, span.lastDay);
  for (const { state, battery, starter } of fitted)
    seen.lives.push(batteryLife(state, battery, null), starterLife(state, starter, null));
  const orders = writeWorkOrders({ plan, seed: setting.seed, ...span }, seen.facts, seen.visitDays);
  return {
    engines: history.engines.length,
    unitLine: unitLine(plan, span.lastDay),
    componentLines: registered,
    log,
    orderLines: orders.lines,
    lives: seen.lives,
    truth: {
      lives: seen.lives.map((life) => lifeLine(plan.unit, life)),
      states: seen.states,
      hidden: seen.hidden.sort((a, b) => a.day - b.day).map((note) => hiddenLine(plan.unit, note)),
      work_orders: orders.truth.map((order) => orderLine(plan.unit, order)),
    },
  };
}

type Seen = { facts: RepairFact[]; lives: TrueLife[]; hidden: HiddenNote[]; states: string[]; visitDays: number[] };
type Fitted = { state: EngineState; battery: EngineState['battery']; starter: EngineState['starter'] };

/** Past the log, with nobody at the testers: until every part that was fitted at its end has failed, or time is up. */
function liveOn(history: UnitHistory, fitted: readonly Fitted[], lastDay: number): void {
  const open = (): boolean =>
    fitted.some(
      ({ state, battery, starter }) =>
        (battery.failedDay === null && state.battery === battery) ||
        (starter.failedDay === null && state.starter === starter),
    );
  for (let day = lastDay + 1; day <= lastDay + AFTER_DAYS && open(); day += 1) history.live(day);
}

function noteStates(seen: Seen, plan: UnitPlan, at: { day: number; engines: readonly EngineState[] }): void {
  if (!dateFromDay(at.day).endsWith('-01')) return;
  for (const state of at.engines) seen.states.push(stateLine(plan.unit, at.day, state));
}

function hiddenSpells(plan: UnitPlan): HiddenNote[] {
  const spell = (what: string, [from, to]: readonly [number, number]): HiddenNote[] => [
    { position: '', day: from, what: `${what}_from` },
    { position: '', day: to, what: `${what}_until` },
  ];
  const swap = plan.loggerSwap;
  return [
    ...plan.silent.flatMap((silent) => spell('logger_silent', silent)),
    ...plan.parked.flatMap((parked) => spell('parked', parked)),
    ...(swap === null
      ? []
      : [{ position: '', day: swap.day, what: `logger_swapped_${plan.logger.rateHz}_to_${swap.to.rateHz}_hz` }]),
    ...(plan.story === null ? [] : [{ position: '', day: plan.inServiceDay, what: `story: ${plan.story}` }]),
  ];
}
