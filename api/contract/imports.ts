import { Type, type Static } from 'typebox';
import { instant, nullable, store, text } from './scalars.ts';

export const ImportRow = Type.Object({
  importId: Type.Integer(),
  file: Type.String(),
  kind: Type.String(),
  bytes: Type.Integer(),
  taken: Type.Integer(),
  setAside: Type.Integer(),
  unknownColumns: Type.Array(Type.String()),
  loadedAt: nullable(instant),
});
export type ImportRow = Static<typeof ImportRow>;

export const Imports = Type.Object({
  store,
  imports: Type.Array(ImportRow),
  waiting: Type.Array(Type.Object({ unit: Type.String(), rows: Type.Integer() })),
  /** Files that could not be read when they were last met. */
  unreadable: Type.Array(Type.Object({ file: text, reason: text })),
  /** Words to add to a command so that it works on the store that is served; '' for the usual one. */
  storeOption: text,
});
export type Imports = Static<typeof Imports>;

/** One reason for which rows of a file were set aside, with the first of them. */
const SetAsideReason = Type.Object({
  field: text,
  reason: text,
  rows: Type.Integer(),
  /** As written; a line of 0 means the file as a whole. */
  first: Type.Array(Type.Object({ line: Type.Integer(), value: text })),
});

export const ImportSetAside = Type.Object({
  importId: Type.Integer(),
  setAside: Type.Integer(),
  /** Of so many the reason is kept: of a file full of rubbish not every row is. */
  kept: Type.Integer(),
  /** The most frequent first. */
  reasons: Type.Array(SetAsideReason),
});
export type ImportSetAside = Static<typeof ImportSetAside>;
