import { Type, type Static } from 'typebox';
import { nullable, store, text } from './scalars.ts';

/** Ready to answer from an assessment, or why not. */
export const Health = Type.Object({
  ready: Type.Boolean(),
  why: text,
  store,
  imports: Type.Integer(),
  asOf: nullable(text),
});
export type Health = Static<typeof Health>;
