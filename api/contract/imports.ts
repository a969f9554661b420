import { Type, type Static } from 'typebox';

export const ImportRow = Type.Object({
  importId: Type.Integer(),
  file: Type.String(),
  kind: Type.String(),
  bytes: Type.Integer(),
  taken: Type.Integer(),
  setAside: Type.Integer(),
  unknownColumns: Type.Array(Type.String()),
  loadedAt: Type.Union([Type.String(), Type.Null()]),
});
export type ImportRow = Static<typeof ImportRow>;

export const Imports = Type.Object({
  store: Type.Enum(['sample', 'own']),
  imports: Type.Array(ImportRow),
  waiting: Type.Array(Type.Object({ unit: Type.String(), rows: Type.Integer() })),
});
export type Imports = Static<typeof Imports>;
