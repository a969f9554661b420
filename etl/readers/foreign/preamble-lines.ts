import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import { plainName } from '../profile/mapped-column.ts';

/** Where the table begins in a file that says other things first. */
export type LocatedHeader = {
  /** Column names as written. */
  names: readonly string[];
  /** 1-based line of the header row, and of the first row after it that holds data. */
  headerLine: number;
  dataLine: number;
  /** The value on a line above the header that begins with these words; null where there is none. */
  preamble: (key: string) => string | null;
};

/** Exports say at most some dozens of lines before their table (common practice); more is no such file. */
const MOST_PREAMBLE_LINES = 1000;

/** A line above a header says one thing; what comes after is not looked at. */
const MOST_CHARACTERS = 500;

/** Throws UnreadableFile where no line is the header that the profile asks for. */
export function locateHeader(start: Uint8Array, profile: ImportProfile): LocatedHeader {
  const lines = linesOf(start);
  const delimiter = profile.delimiter ?? ',';
  const index = headerIndex(lines, profile);
  const line = index < 0 ? undefined : lines[index];
  if (line === undefined) {
    const wanted = profile.header?.words ?? [`line ${profile.header?.line ?? 1}`];
    throw new UnreadableFile(
      `file requires a header row with ${wanted.join(', ')}, got none in its first ${lines.length} lines`,
    );
  }
  const above = lines.slice(0, index);
  return {
    names: withoutEmptyEnd(cellsOf(line, delimiter).map((name) => name.trim())),
    headerLine: index + 1,
    dataLine: index + 2 + (profile.header?.rowsAfter ?? 0),
    preamble: (key) => preambleValue(above, key),
  };
}

/** A delimiter at the end of the header names no column: its rows may have one there or not. */
function withoutEmptyEnd(names: readonly string[]): string[] {
  return names.slice(0, names.findLastIndex((name) => name !== '') + 1);
}

/** Lines of the beginning of a file; what follows its last line end may be cut off and only counts where it is all. */
export function linesOf(start: Uint8Array): string[] {
  const text = Buffer.from(start)
    .toString('utf8')
    .replace(/^\uFEFF/, '');
  const lines = text.split(/\r?\n/, MOST_PREAMBLE_LINES + 1);
  return lines.length > 1 && lines.length <= MOST_PREAMBLE_LINES ? lines.slice(0, -1) : lines;
}

/** Cells of one line; a quote that is not closed is text like any other. */
export function cellsOf(line: string, delimiter: string): string[] {
  const cells: string[] = [];
  for (let from = 0; from <= line.length;) {
    const quoted = /^ *"((?:[^"]|"")*)" */.exec(line.slice(from));
    const after = quoted === null ? from : from + quoted[0].length;
    const whole = quoted !== null && (after === line.length || line.startsWith(delimiter, after));
    const found = line.indexOf(delimiter, whole ? after : from);
    const to = found < 0 ? line.length : found;
    cells.push(whole ? quoted[1]!.replaceAll('""', '"') : line.slice(from, to));
    from = to + 1;
  }
  return cells;
}

function headerIndex(lines: readonly string[], { header, columns = {}, delimiter = ',' }: ImportProfile): number {
  if (header?.line !== undefined) return header.line - 1;
  const cells = (line: string) => new Set(cellsOf(line, delimiter).map(plainName));
  if (header?.words !== undefined) {
    const words = header.words.map(plainName);
    return lines.findIndex((line) => {
      const names = cells(line);
      return words.every((name) => names.has(name));
    });
  }
  const names = Object.keys(columns).map(plainName);
  const matches = lines.map((line) => {
    const there = cells(line);
    return names.filter((name) => there.has(name)).length;
  });
  const most = Math.max(0, ...matches);
  return most > 0 ? matches.indexOf(most) : lines.findIndex((line) => line.trim() !== '');
}

/** `Start Time,2026-03-01 06:00`, `Start Time: …`, `"Start Time";"…"`: the first such line counts. */
function preambleValue(lines: readonly string[], key: string): string | null {
  const wanted = plainName(key);
  for (const line of lines) {
    const bare = line
      .slice(0, MOST_CHARACTERS)
      .replaceAll('"', '')
      .replace(/^[#\s]+/, '');
    if (!bare.toLowerCase().startsWith(wanted)) continue;
    const rest = /^\s*[:=,;|\t]\s*(.*)$/.exec(bare.slice(wanted.length));
    if (rest !== null) return rest[1]!.replace(/[,;|\t\s]+$/, '').trim();
  }
  return null;
}
