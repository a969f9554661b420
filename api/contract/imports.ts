import { Type, type Static } from 'typebox';
import { instant, nullable, store } from './scalars.ts';

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
});
export type Imports = Static<typeof Imports>;
