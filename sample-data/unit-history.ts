import type { Climate } from './climate.ts';
import type { Crank } from './crank.ts';
import { ageEngine, newEngineState } from './engine-state.ts';
import type { EngineState } from './engine-state.ts';
import type { LogSpan } from './fleet.ts';
import { createRandom } from './random.ts';
import type { Random } from './random.ts';
import { attemptStart, drive } from './start-attempt.ts';
import type { UnitPlan } from './unit-plan.ts';
import { plannedStarts, works } from './usage.ts';
import { afterComplaints, afterNoStart, changeBattery, plannedVisit, traceDrain } from './workshop.ts';
import type { WorkshopSink } from './workshop.ts';

/**
 * A unit's history, day by day: parts age, drivers start it, some starts fail, people act. Everything goes to the sink
 * in time order; nothing here knows of loggers, files or words.
 */
export type HistorySink = WorkshopSink & {
  crank(crank: Crank): void;
  /** After the day's cranks. */
  dayDone(day: number, engines: readonly EngineState[]): void;
  visited(day: number): void;
};

export type UnitHistory = { engines: EngineState[]; /** Lives the next day. */ live(day: number): void };

export function unitHistory(
  plan: UnitPlan,
  at: { seed: number; climate: Climate; span: LogSpan },
  sink: HistorySink,
): UnitHistory {
  const engines = plan.class.positions.map((position) => newEngineState(plan, position, at));
  const usage = createRandom(at.seed, plan.index, 'usage');
  const context: Context = { plan, climate: at.climate, span: at.span, usage, sink };
  return {
    engines,
    live: (day) => {
      if (day < plan.inServiceDay || (plan.outOfServiceDay !== null && day >= plan.outOfServiceDay)) return;
      liveDay(engines, day, context);
    },
  };
}

type Context = { plan: UnitPlan; climate: Climate; span: LogSpan; usage: Random; sink: HistorySink };

function liveDay(engines: EngineState[], day: number, context: Context): void {
  const { plan, usage, sink } = context;
  const worked = works(plan, day, usage);
  const cranks: Crank[] = [];
  for (const state of engines) {
    followDay(state, day, context);
    ageEngine(state, plan, { climate: context.climate, day, worked });
    if (worked) cranks.push(...driveDay(state, day, context));
  }
  if (engines.length > 1) cranks.sort((a, b) => a.secondOfDay - b.secondOfDay);
  for (const crank of cranks) sink.crank(crank);
  const due = (day - plan.firstVisitDay) % plan.depot.visitDays === 0 && day >= plan.firstVisitDay;
  if (due && day <= context.span.lastDay) visit(engines, day, context);
  sink.dayDone(day, engines);
}

function visit(engines: EngineState[], day: number, context: Context): void {
  for (const state of engines)
    plannedVisit({ plan: context.plan, state, day, secondOfDay: VISIT_SECOND, sink: context.sink });
  context.sink.visited(day);
}

/** Visits are booked in at half past six in the evening. */
export const VISIT_SECOND = 66_600;

/** What a story has laid down for this day. */
function followDay(state: EngineState, day: number, context: Context): void {
  const before = context.span.lastDay - day;
  const { script } = state;
  if (script.cellShortBefore === before) state.battery.broken = 'cell_short';
  const at = { plan: context.plan, state, day, secondOfDay: STORY_SECOND, sink: context.sink };
  if (script.unrecordedBatteryBefore === before) changeBattery(at, { end: 'planned', recorded: false });
  if (script.drain?.fromBefore === before) state.drainMilliamps = script.drain.milliamps;
  if (script.drain?.untilBefore === before) traceDrain(at);
}

/** Seven in the morning. */
const STORY_SECOND = 25_200;

function driveDay(state: EngineState, day: number, context: Context): Crank[] {
  const { plan, climate, usage, sink } = context;
  const cranks: Crank[] = [];
  const starts = plannedStarts(plan, usage);
  if (day < state.readyDay) return cranks;
  for (const start of starts) {
    const moment = { plan, climate, day, start };
    const attempt = attemptStart(state, moment);
    cranks.push(...attempt.cranks);
    if (attempt.culprit === null) continue;
    const last = attempt.cranks.at(-1);
    const secondOfDay = (last === undefined ? start.secondOfDay : last.secondOfDay + last.seconds) + 300;
    afterNoStart(attempt.culprit, { plan, state, day, secondOfDay, sink });
    if (state.readyDay > day) return cranks;
    drive(state, moment);
  }
  const evening = starts.at(-1);
  if (evening !== undefined)
    afterComplaints({ plan, state, day, secondOfDay: evening.secondOfDay + evening.runSeconds, sink });
  return cranks;
}
