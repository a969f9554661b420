import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import type { ColumnTable } from './column-table.ts';
import { convertedFields, misfitOf } from '../foreign/delimited-reader.ts';
import { guessOfTable, withGuess } from '../guess/with-guess.ts';
import { mappedTable } from '../profile/mapped-table.ts';
import { notedReader } from '../profile/noted-reader.ts';
import type { OpenedFile, Reader, Sniffed, TableReader } from '../reader.ts';
import { createRowMapping, type RowMapping } from '../profile/row-mapping.ts';
import { shiftedLines } from '../foreign/shifted-lines.ts';
import { tableReaderOf } from '../table-of.ts';

/** A shape of file that holds columns. */
export type Container = {
  name: string;
  /** Raised when the same bytes would be read differently. */
  version: number;
  /** Opens a file as a table for as long as `use` takes. Throws UnreadableFile. */
  open<Result>(file: OpenedFile, use: (table: ColumnTable) => Promise<Result>): Promise<Result>;
};

/**
 * The reader of a file with these columns: by the profile where it fits, else by the file's own columns, as for text.
 */
export function containerReader(
  container: Container,
  { path, columns }: { path: string; columns: readonly string[] },
  profile: ImportProfile | null = null,
): Sniffed {
  const foreign = profile === null ? null : byProfile(container, { path, columns }, profile);
  if (foreign !== null && 'reader' in foreign) return foreign;
  const table = tableReaderOf(columns);
  if ('unrecognised' in table) return foreign ?? table;
  const reader = readerOf(container, table, async (file, use) => container.open(file, use));
  return { reader: foreign === null ? reader : notedReader(reader) };
}

type Guessed = { table: ColumnTable; path: string; profile?: ImportProfile | null | undefined };

/** Beside why a file is of no kind: what a profile could make of it, where none was given. */
export async function withTableGuess(found: Sniffed, { table, path, profile = null }: Guessed): Promise<Sniffed> {
  if ('reader' in found || profile !== null) return found;
  return withGuess(found.unrecognised, await guessOfTable(table, path));
}

function readerOf({ name, version }: Container, table: TableReader, open: Container['open']): Reader {
  return {
    name: `${table.kind}-${name}`,
    kind: table.kind,
    version: table.version * 100 + version,
    read: async (file, sink, options) =>
      open(file, async (columns) => {
        const report = await table.readTable(columns, sink, options);
        // A list under the name of a field is no such field.
        return { ...report, unknownColumns: [...new Set([...report.unknownColumns, ...columns.others])] };
      }),
  };
}

function byProfile(
  container: Container,
  { path, columns }: { path: string; columns: readonly string[] },
  profile: ImportProfile,
): Sniffed {
  try {
    const mappingOf = (names: readonly string[]) => createRowMapping(names, profile, { path, preamble: () => null });
    const mapping = mappingOf(columns);
    const misfit = misfitOf(columns, mapping, profile);
    if (misfit !== null) return { unrecognised: misfit };
    return { reader: mappedReader(container, { mapping, mappingOf, profile }) };
  } catch (error) {
    if (error instanceof UnreadableFile) return { unrecognised: error.message };
    throw error;
  }
}

type Mapped = { mapping: RowMapping; mappingOf: (names: readonly string[]) => RowMapping; profile: ImportProfile };

function mappedReader(container: Container, { mapping, mappingOf, profile }: Mapped): Reader {
  const table = tableReaderOf(mapping.fields) as TableReader;
  const reader = readerOf(container, table, async (file, use) =>
    container.open(file, async (own) => use(mappedTable(own, mappingOf(own.columns), profile))),
  );
  return {
    ...reader,
    byProfile: true,
    read: async (file, sink, options) => reader.read(file, shiftedLines(sink, 0, convertedFields(mapping)), options),
  };
}
