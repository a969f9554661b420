import { Type, type Static } from 'typebox';
import { ACTIONS, FORECAST_COMPONENTS } from '../../etl/model/words.ts';
import { date, nullable, probability, store, text } from './scalars.ts';

export const RankingRow = Type.Object({
  rank: Type.Integer(),
  unit: text,
  position: text,
  depot: text,
  class: text,
  component: Type.Enum([...FORECAST_COMPONENTS]),
  action: Type.Enum([...ACTIONS]),
  actByOn: nullable(date),
  pFailToNextVisit: nullable(probability),
  pFail30d: nullable(probability),
  pFail60d: nullable(probability),
  pFail90d: nullable(probability),
  windowEarlyOn: nullable(date),
  windowMidOn: nullable(date),
  windowLateOn: nullable(date),
  ageDays: nullable(Type.Number()),
  costNowMinor: nullable(Type.Integer()),
  costOfWaitingMinor: nullable(Type.Integer()),
  roadCallRisk: nullable(probability),
  nextVisitOn: date,
  nextVisitFrom: Type.Enum(['booked', 'shop_visit', 'maintenance', 'assumed']),
  reason: text,
  /** The strongest reason in short, for a list. */
  why: text,
  basis: Type.Array(text),
  /** Rank in the assessment before this one; null: it was not in it. */
  rankBefore: nullable(Type.Integer()),
  booking: nullable(Type.Object({ bookingId: Type.Integer(), bookedOn: date, note: text })),
  deferral: nullable(Type.Object({ deferralId: Type.Integer(), untilOn: date, reason: text })),
});
export type RankingRow = Static<typeof RankingRow>;

export const Assumption = Type.Object({
  name: text,
  /** Where it stands in the settings: `costs.battery.partsMinor`. */
  setting: text,
  value: text,
  /** `default`, or `set` by the fleet's people. */
  from: Type.Enum(['default', 'set']),
  source: text,
});
export type Assumption = Static<typeof Assumption>;

export const Ranking = Type.Object({
  /** `no_data`: nothing is loaded; `not_assessed`: loaded, but no date has been assessed. Both have no rows. */
  state: Type.Enum(['ready', 'no_data', 'not_assessed']),
  asOf: text,
  asOfOn: date,
  previousAsOf: nullable(text),
  store,
  /** Data newer than the assessment has been loaded. */
  stale: Type.Boolean(),
  currency: text,
  rows: Type.Array(RankingRow),
  assumptions: Type.Array(Assumption),
  /** Words to add to a command so that it works on the store that is served; empty for the default one. */
  storeOption: text,
});
export type Ranking = Static<typeof Ranking>;

export const BookingRequest = Type.Object(
  {
    unit: Type.String({ minLength: 1, maxLength: 200 }),
    position: Type.String({ maxLength: 200 }),
    component: Type.Enum([...FORECAST_COMPONENTS]),
    bookedOn: Type.String({ format: 'date' }),
    note: Type.String({ maxLength: 500 }),
  },
  { additionalProperties: false },
);
export type BookingRequest = Static<typeof BookingRequest>;

export const DeferralRequest = Type.Object(
  {
    unit: Type.String({ minLength: 1, maxLength: 200 }),
    position: Type.String({ maxLength: 200 }),
    component: Type.Enum([...FORECAST_COMPONENTS]),
    untilOn: Type.String({ format: 'date' }),
    reason: Type.String({ minLength: 3, maxLength: 500 }),
  },
  { additionalProperties: false },
);
export type DeferralRequest = Static<typeof DeferralRequest>;

/** What was booked or deferred, as it now stands. */
export const BookingAnswer = Type.Object({ bookingId: Type.Integer(), unit: text, bookedOn: date });
export const DeferralAnswer = Type.Object({ deferralId: Type.Integer(), unit: text, untilOn: date });
