import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import { CellFault, type RowFault } from '../kinds/cell.ts';
import { constantsOf, instantText, mapColumns, type MappedColumn, type MappedFile } from './mapped-column.ts';
import { timeFromStart, type FromStart } from '../foreign/time-from-start.ts';
import { unitOfFile } from '../unit-of-file.ts';

/** Rows of a foreign file, cell by cell → rows as a file with the contract's columns would write them. */
export type RowMapping = {
  /** The contract's columns, in the order in which `read` gives their cells. */
  fields: readonly string[];
  columns: readonly MappedColumn[];
  /** Columns of the file that fill no field: kept aside. */
  unmapped: readonly string[];
  /** `row`: how many rows of the file came before. */
  read(cells: readonly string[], row: number): string[] | RowFault;
  /** What `read` is made of, for those who write faster: the columns that fill a field alone or begin a pair, … */
  single: readonly MappedColumn[];
  /** … which column ends the pair, by field, … */
  halves: ReadonlyMap<string, number>;
  /** … the time counted from the start of the recording and its column (−1: none), … */
  fromStart: FromStart | null;
  timeIndex: number;
  /** … and the last fields, alike in every row. */
  constants: readonly string[];
};

const NO_PREAMBLE = () => null;

/** Throws UnreadableFile where the file lacks what the profile takes from its name or from the lines above its header. */
export function createRowMapping(
  names: readonly string[],
  profile: ImportProfile | null,
  file: MappedFile = { path: '', preamble: NO_PREAMBLE },
): RowMapping {
  const columns = mapColumns(names, profile);
  const constants = constantsOf(profile, unitOf(file, profile));
  const fromStart = timeFromStart(profile, file);
  const used = new Set(columns.map(({ index }) => index));
  const single = columns.filter(({ part, field }) => part !== 'time' && !(field === 'time' && fromStart !== null));
  const parts = {
    single,
    halves: new Map(columns.filter(({ part }) => part === 'time').map((column) => [column.field, column.index])),
    fromStart,
    timeIndex: columns.find(({ field }) => field === 'time')?.index ?? -1,
    constants: [...constants.values()],
  };
  return {
    ...parts,
    fields: [...single.map(({ field }) => field), ...(fromStart === null ? [] : ['time']), ...constants.keys()],
    columns,
    unmapped: names.filter((_, index) => !used.has(index)),
    read: (cells, row) => readRow(cells, row, parts),
  };
}

type Parts = Pick<RowMapping, 'single' | 'halves' | 'fromStart' | 'timeIndex' | 'constants'>;

function readRow(cells: readonly string[], row: number, parts: Parts): string[] | RowFault {
  const written: string[] = [];
  for (const column of parts.single) {
    const half = parts.halves.get(column.field);
    const text = joined(cells[column.index]!.trim(), half === undefined ? null : cells[half]!.trim());
    const value = column.written(text);
    if (value instanceof CellFault) return value.at(column.field, text);
    written.push(value);
  }
  if (parts.fromStart !== null) {
    const text = cells[parts.timeIndex]?.trim() ?? '';
    const us = parts.fromStart.instant(text, row);
    if (us instanceof CellFault) return us.at('time', text);
    written.push(instantText(us));
  }
  return [...written, ...parts.constants];
}

function joined(date: string, time: string | null): string {
  return time === null ? date : `${date} ${time}`.trim();
}

function unitOf({ path, preamble }: MappedFile, profile: ImportProfile | null): string | null {
  const key = profile?.unitFrom?.preamble;
  if (key === undefined) return unitOfFile(path, profile);
  const unit = preamble(key);
  if (unit !== null && unit !== '') return unit;
  throw new UnreadableFile(
    `file requires the unit on a line above its header, got no line ${key} (/unitFrom/preamble)`,
  );
}
