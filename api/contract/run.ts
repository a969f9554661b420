import { Type, type Static } from 'typebox';
import { nullable, text } from './scalars.ts';

/** Work that takes longer than a request: a process of its own, one at a time. */
export const Run = Type.Object({
  what: Type.Enum(['assess', 'backtest', 'unload']),
  /** The day that is assessed; null for all else. */
  asOf: nullable(text),
  state: Type.Enum(['running', 'done', 'failed']),
  /** Its latest words: how far it is, or why it could not. */
  says: text,
});
export type Run = Static<typeof Run>;

export const Runs = Type.Object({
  /** Whether this server may start work; else the command has to be given by hand. */
  canRun: Type.Boolean(),
  /** What runs, or ran last. */
  run: nullable(Run),
});
export type Runs = Static<typeof Runs>;

export const RunRequest = Type.Object(
  {
    what: Type.Enum(['assess', 'backtest']),
    asOf: Type.Optional(Type.String({ format: 'date', description: 'for assess: the end of that day' })),
  },
  { additionalProperties: false },
);
export type RunRequest = Static<typeof RunRequest>;
