import { Type, type Static } from 'typebox';
import { COMPONENTS, EVENTS } from '../../etl/model/words.ts';
import { text } from './scalars.ts';

const closed = { additionalProperties: false };

/** One row of how a person reads a repair record. */
export const Reading = Type.Object(
  {
    component: Type.Enum([...COMPONENTS, 'none']),
    event: Type.Enum([...EVENTS]),
    unplanned: Type.Boolean(),
    position: Type.String({ maxLength: 100 }),
  },
  closed,
);
export type Reading = Static<typeof Reading>;

export const ReadingRequest = Type.Object({ readings: Type.Array(Reading, { minItems: 1, maxItems: 20 }) }, closed);
export const ReadingAnswer = Type.Object({
  unit: text,
  workOrder: text,
  readings: Type.Array(Reading),
  /** When it counts in trends and forecasts. */
  takesEffect: text,
});
export type ReadingAnswer = Static<typeof ReadingAnswer>;
