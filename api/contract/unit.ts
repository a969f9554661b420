import { Type, type Static } from 'typebox';
import { FORECAST_ENDS } from '../../etl/model/backtest.ts';
import {
  COMPONENTS,
  EVENTS,
  FORECAST_COMPONENTS,
  INDICATORS,
  LIFE_ENDS,
  PATTERNS,
  SUSPECTS,
} from '../../etl/model/words.ts';
import { RankingRow } from './ranking.ts';
import { date, instant, nullable, number, probability, store, text } from './scalars.ts';
import { TrackedForecast } from './track-record.ts';

export const Life = Type.Object({
  position: text,
  component: Type.Enum([...COMPONENTS]),
  fittedOn: nullable(date),
  fittedFrom: Type.Enum(['record', 'assumed']),
  removedOn: nullable(date),
  end: Type.Enum([...LIFE_ENDS]),
  watchedFromOn: date,
  watchedToOn: date,
  workOrder: text,
});
export type Life = Static<typeof Life>;

export const UnitWorkOrder = Type.Object({
  workOrder: text,
  openedOn: date,
  closedOn: nullable(date),
  position: text,
  component: Type.Enum([...COMPONENTS, 'none']),
  event: Type.Enum([...EVENTS]),
  unplanned: Type.Boolean(),
  /** The words that decided how it was read. */
  words: text,
  /** A person said so; the program's own reading gave way. */
  corrected: Type.Boolean(),
  complaint: text,
  cause: text,
  correction: text,
});
export type UnitWorkOrder = Static<typeof UnitWorkOrder>;

export const UnitTrend = Type.Object({
  position: text,
  component: Type.Enum([...FORECAST_COMPONENTS]),
  indicator: Type.Enum([...INDICATORS]),
  level: nullable(number),
  slopePerYear: nullable(number),
  slopeLow: nullable(number),
  slopeHigh: nullable(number),
  senSlopePerYear: nullable(number),
  pValue: nullable(number),
  n: Type.Integer(),
  sinceOn: nullable(date),
  residual: nullable(number),
  standing: text,
  /** Daily medians, corrected to the class's reference temperature: day numbers since 1970 and values. */
  days: Type.Array(number),
  values: Type.Array(number),
  /** The same days before correction. */
  rawValues: Type.Array(number),
});
export type UnitTrend = Static<typeof UnitTrend>;

export const UnitOutlook = Type.Object({
  position: text,
  component: Type.Enum([...FORECAST_COMPONENTS]),
  ageDays: nullable(number),
  pFail30d: nullable(number),
  pFail60d: nullable(number),
  pFail90d: nullable(number),
  windowEarlyOn: nullable(date),
  windowMidOn: nullable(date),
  windowLateOn: nullable(date),
  basis: Type.Array(text),
  evidence: Type.Array(text),
  /** Days ahead and S(t); empty where nothing can be said. */
  survivalDays: Type.Array(number),
  survival: Type.Array(number),
});
export type UnitOutlook = Static<typeof UnitOutlook>;

/** On how many failures a component's forecast stands, for the unit's class: the rung of the ladder of evidence. */
export const EvidenceRung = Type.Object({
  component: Type.Enum([...FORECAST_COMPONENTS]),
  rung: Type.Enum(['elsewhere', 'fleet', 'pooled_shape', 'own_scale', 'own_both'], {
    description: 'what is known elsewhere; other classes of the fleet; few of the class; its own length; all its own',
  }),
  /** Of the class, then of the whole fleet. */
  failures: Type.Integer(),
  lives: Type.Integer(),
  fleetFailures: Type.Integer(),
  fleetLives: Type.Integer(),
  /** Whether how this fleet's own forecasts came out was used to correct it. */
  corrected: Type.Boolean(),
});
export type EvidenceRung = Static<typeof EvidenceRung>;

/** What became of a part that an earlier assessment spoke of. `lost`: no record of it is left; `gone`: see FORECAST_ENDS. */
export const PartSince = Type.Object({
  position: text,
  component: Type.Enum([...FORECAST_COMPONENTS]),
  end: Type.Enum([...FORECAST_ENDS, 'lost']),
  /** Its last day, or the last day that is known of it. */
  on: date,
  days: Type.Integer(),
  workOrder: text,
  /** Where a failure fell. */
  window: nullable(Type.Enum(['before', 'inside', 'after'])),
  /** What had been said of failing by then. */
  pFailByThen: nullable(probability),
});
export type PartSince = Static<typeof PartSince>;

/** A finding that a cheap test would settle: what to measure next, with its pass value, source and cautions. */
export const MeasureNext = Type.Object({ position: text, test: text, why: text, expected: text, source: text });
export type MeasureNext = Static<typeof MeasureNext>;

export const UnitView = Type.Object({
  unit: text,
  asOf: text,
  asOfOn: date,
  /** The newest assessed day: what happened since is known up to there. */
  newestAsOf: text,
  newestOn: date,
  /** Where this unit alone was computed anew after its fleet: when, and when the fleet's parameters were found. */
  reassessed: nullable(Type.Object({ at: instant, parametersAt: instant })),
  store,
  currency: text,
  /** Label and value of the register's row, in reading order; empty while the unit is not in the register. */
  register: Type.Array(Type.Object({ label: text, value: text })),
  depot: text,
  class: text,
  positions: Type.Array(text),
  crankCount: Type.Integer(),
  lastCrankAt: nullable(text),
  ranking: Type.Array(RankingRow),
  outlooks: Type.Array(UnitOutlook),
  rungs: Type.Array(EvidenceRung),
  /** Empty on the newest day. */
  since: Type.Array(PartSince),
  /** What the backtest said of it on days of the past, the newest first. */
  pastForecasts: Type.Array(TrackedForecast),
  pastHorizonDays: Type.Integer(),
  trends: Type.Array(UnitTrend),
  lives: Type.Array(Life),
  workOrders: Type.Array(UnitWorkOrder),
  /** Cranks whose waveform is kept, oldest first. */
  waveforms: Type.Array(
    Type.Object({
      id: text,
      position: text,
      at: text,
      pattern: Type.Enum([...PATTERNS]),
      suspect: nullable(Type.Enum([...SUSPECTS])),
    }),
  ),
  measureNext: Type.Array(MeasureNext),
  cautions: Type.Array(text),
});
export type UnitView = Static<typeof UnitView>;

export const Waveform = Type.Object({
  id: text,
  unit: text,
  position: text,
  /** Onset, ISO. */
  at: text,
  pattern: Type.Enum([...PATTERNS]),
  /** Seconds from onset. */
  seconds: Type.Array(number),
  volts: Type.Array(number),
  amps: nullable(Type.Array(nullable(number))),
});
export type Waveform = Static<typeof Waveform>;

export const UnitOutlooks = Type.Object({ unit: text, asOf: text, outlooks: Type.Array(UnitOutlook) });
export type UnitOutlooks = Static<typeof UnitOutlooks>;
