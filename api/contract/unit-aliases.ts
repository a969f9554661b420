import { Type, type Static } from 'typebox';
import { instant, text } from './scalars.ts';

/** A unit number as people write it: free text. */
const unitNumber = Type.String({ minLength: 1, maxLength: 200 });

/** The unit, and its other spellings: as it is offered, and as it is accepted. */
export const AliasRequest = Type.Object(
  { unit: unitNumber, spellings: Type.Array(unitNumber, { minItems: 1, maxItems: 100 }) },
  { additionalProperties: false },
);
export type AliasRequest = Static<typeof AliasRequest>;

export const AliasRow = Type.Object({
  spelling: text,
  unit: text,
  goesBy: Type.String({ description: 'what the unit goes by: the spelling of the register, else the unit named here' }),
  createdAt: instant,
});
export type AliasRow = Static<typeof AliasRow>;

export const DistinctionRow = Type.Object({ unit: text, other: text, createdAt: instant });
export type DistinctionRow = Static<typeof DistinctionRow>;

export const UnitAliases = Type.Object({
  aliases: Type.Array(AliasRow, { description: 'spellings that people said to be one unit' }),
  apart: Type.Array(DistinctionRow, { description: 'spellings that people said to be two units' }),
  offers: Type.Array(AliasRequest, { description: 'spellings that may be one unit: nothing is merged unasked' }),
});
export type UnitAliases = Static<typeof UnitAliases>;

export const DistinctionAnswer = Type.Object({ apart: Type.Array(DistinctionRow) });

export const AliasAnswer = Type.Object({
  aliases: Type.Array(AliasRow),
  /** When it counts in trends and forecasts. */
  takesEffect: text,
});
export type AliasAnswer = Static<typeof AliasAnswer>;
