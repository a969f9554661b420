import { Type, type Static, type TSchema } from 'typebox';

/** The small schemas that every answer is made of. */
export const nullable = <Schema extends TSchema>(schema: Schema) => Type.Union([schema, Type.Null()]);
export const text = Type.String();
export const number = Type.Number();
export const date = Type.String({ description: 'YYYY-MM-DD' });
export const instant = Type.String({ description: 'ISO 8601, UTC' });
export const probability = Type.Number({ minimum: 0, maximum: 1 });
export const minor = Type.Integer({ description: 'minor units of the currency' });
export const store = Type.Enum(['sample', 'own'], { description: 'the invented fleet, or the user’s' });
export type StoreKind = Static<typeof store>;
