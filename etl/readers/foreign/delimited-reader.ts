import type { ImportProfile } from '../../model/import-profile.ts';
import { contractText } from './delimited-rows.ts';
import { constantsOf, plainName, type MappedColumn } from '../profile/mapped-column.ts';
import { locateHeader } from './preamble-lines.ts';
import type { FileStart, Reader, Sniffed, TableReader } from '../reader.ts';
import { createRowMapping, type RowMapping } from '../profile/row-mapping.ts';
import { shiftedLines, shiftedNotes } from './shifted-lines.ts';
import { tableReaderOf } from '../table-of.ts';
import { utf8Text } from '../bytes/utf-16.ts';

/** Raised when the same bytes and profile would be read differently. */
const VERSION = 2;

/**
 * The reader of a delimited text by a profile, or why the profile does not fit the file. Throws UnreadableFile where the
 * file lacks a header or what the profile takes from the lines above it.
 */
export function delimitedReader(start: FileStart, profile: ImportProfile): Sniffed {
  const { dataLine, names, preamble } = locateHeader(start.bytes, profile);
  const mapping = createRowMapping(names, profile, { path: start.path, preamble });
  const misfit = misfitOf(names, mapping, profile);
  if (misfit !== null) return { unrecognised: misfit };
  const table = tableReaderOf(mapping.fields) as TableReader;
  const converted = convertedFields(mapping);
  const by = dataLine - 2;
  const reader: Reader = {
    name: table.name,
    kind: table.kind,
    version: table.version * 100 + VERSION,
    byProfile: true,
    async read({ bytes }, sink, options) {
      let refused = 0;
      const translated = contractText(utf8Text(bytes, profile.encoding), {
        mapping,
        profile,
        columnCount: names.length,
        dataLine,
        async onSetAside(rows) {
          refused += rows.length;
          await sink.setAside(rows);
        },
      });
      const report = await table.read(translated, shiftedLines(sink, by, converted), options);
      const unknownColumns = [...mapping.unmapped.filter((name) => name !== ''), ...report.unknownColumns];
      return {
        ...report,
        setAside: report.setAside + refused,
        unknownColumns,
        notes: shiftedNotes(report, by),
      };
    },
  };
  return { reader };
}

/** Fields whose values are no longer as written, and the unit of measure that they come from. */
export function convertedFields(mapping: RowMapping): ReadonlyMap<string, string> {
  return new Map(mapping.columns.filter(isConverted).map((column) => [column.field, column.unitOfMeasure!]));
}

const isConverted = ({ conversion, unitOfMeasure }: MappedColumn) => conversion !== null && unitOfMeasure !== null;

/**
 * A profile fits where its own kind comes out and no column that the kind needs is missing; one that does not say its
 * kind, by its fields or in so many words, fits only where every column that it names is there.
 */
export function misfitOf(names: readonly string[], mapping: RowMapping, profile: ImportProfile): string | null {
  const present = new Set(names.map(plainName));
  const absent = Object.entries(profile.columns ?? {})
    .filter(([name, { field }]) => field !== 'ignore' && !present.has(plainName(name)))
    .map(([name]) => name);
  const found = tableReaderOf(mapping.fields);
  if ('unrecognised' in found) {
    const lacking = absent.length === 0 ? '' : `, without the profile's columns ${absent.join(', ')}`;
    return `${found.unrecognised} (by the profile ${profile.name}${lacking})`;
  }
  const kind = kindOf(profile);
  if (kind === null ? absent.length === 0 : found.kind === kind) return null;
  const requires = kind === null ? `the profile's columns ${absent.join(', ')}` : `the columns of ${kind}`;
  return `file requires ${requires}, got ${names.slice(0, 12).join(', ')} (by the profile ${profile.name})`;
}

/** The kind that a profile makes whatever the file; null where that depends on the file's own columns. */
export function kindOf(profile: ImportProfile): TableReader['kind'] | null {
  if (profile.kind !== undefined) return profile.kind;
  const fields: string[] = Object.values(profile.columns ?? {}).map(({ field }) => field);
  const times = profile.time?.format === 'samples_from_start' ? ['time'] : [];
  const found = tableReaderOf([...fields, ...times, ...constantsOf(profile).keys()]);
  return 'unrecognised' in found ? null : found.kind;
}
