import { Type, type Static } from 'typebox';
import { COMPONENTS } from '../../etl/model/words.ts';
import { nullable, text } from './scalars.ts';

const component = Type.Enum([...COMPONENTS, 'none']);

/** A code of the fleet's own scheme as its work orders carry it. */
export const SystemCode = Type.Object({
  code: text,
  orders: Type.Integer(),
  /** What the settings say it means; null while nobody has said. */
  component: nullable(component),
  /** What the words of its newest records speak of most, in how many of those read; null where they name nothing. */
  read: nullable(Type.Object({ component, orders: Type.Integer(), ofRead: Type.Integer() })),
  /** A record that carries it, in its own words. */
  example: text,
});
export type SystemCode = Static<typeof SystemCode>;

/** The most used first. */
export const SystemCodes = Type.Object({ codes: Type.Array(SystemCode), orders: Type.Integer() });
export type SystemCodes = Static<typeof SystemCodes>;
