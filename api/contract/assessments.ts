import { Type, type Static } from 'typebox';
import { date, instant, text } from './scalars.ts';

/** A day that was assessed: what was known then, and what was said of it. */
export const AssessedDay = Type.Object({
  /** As it was asked for: a date, or an instant. */
  asOf: text,
  asOfOn: date,
  computedAt: instant,
});
export type AssessedDay = Static<typeof AssessedDay>;

export const Assessments = Type.Object({
  /** The newest first. */
  days: Type.Array(AssessedDay),
  /** Words to add to a command so that it works on the store that is served; empty for the default one. */
  storeOption: text,
});
export type Assessments = Static<typeof Assessments>;
