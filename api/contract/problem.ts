import { Type, type Static } from 'typebox';
import { text } from './scalars.ts';

/** RFC 9457 problem details, with what to do about it. */
export const Problem = Type.Object({
  type: text,
  title: text,
  status: Type.Integer(),
  detail: text,
  remedy: text,
});
export type Problem = Static<typeof Problem>;
