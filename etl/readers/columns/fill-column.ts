import { EARLIEST_US } from '../kinds/column-limits.ts';
import type { ColumnPlan } from '../csv/column-plan.ts';
import type { TableColumn } from './column-table.ts';
import type { InstantScanner } from '../csv/scan-number.ts';
import type { TextDictionary } from '../csv/text-dictionary.ts';

/** Rows [from, to) of a column, to be written at index `at` and on. */
export type Piece = { column: TableColumn; from: number; to: number; at: number };
/** Where odd rows are marked (index 0 is row `from`); what texts are numbered by; latest time; what reads times. */
export type Filling = { odd: Uint8Array; dictionary: TextDictionary; latestUs: number; times: InstantScanner };

/** Texts longer than this are measured in bytes at leisure. */
const SHORT_TEXT = 200;
/** Bytes of room for a time; each character takes at most four. */
const LONGEST_TIME = 256;
/** Epoch milliseconds have at most 14 digits, as in text. */
const MILLIS_END = 1e14;

/**
 * Copies a piece of a column to where its plan says. A row whose value is not plainly sound is marked as odd and looked
 * at later. Returns how many rows it marked.
 */
export function fillColumn(piece: Piece, plan: ColumnPlan, filling: Filling): number {
  const { numbers, instants } = piece.column;
  if (plan.kind === 'number' && numbers !== null) return fillNumbers(piece, plan, { ...filling, numbers });
  if (plan.kind === 'instant' && instants !== null) return fillInstants(piece, plan, { ...filling, instants });
  if (plan.kind === 'instant' && numbers !== null) return fillMillis(piece, plan, { ...filling, numbers });
  if (plan.kind === 'instant') return fillTimes(piece, plan, filling);
  if (plan.kind === 'text') return fillNames(piece, plan, filling);
  if (plan.kind === 'word') return fillWords(piece, plan, filling);
  filling.odd.fill(1, 0, piece.to - piece.from);
  return piece.to - piece.from;
}

type Plan<K extends ColumnPlan['kind']> = Extract<ColumnPlan, { kind: K }>;

function fillNumbers(
  { from, to, at }: Piece,
  { into, limit, required }: Plan<'number'>,
  { odd, numbers }: { odd: Uint8Array; numbers: Float64Array },
): number {
  const { least, most } = limit;
  let marked = 0;
  for (let row = from; row < to; row++) {
    const value = numbers[row]!;
    into[at + row - from] = value;
    const sound = (value >= least && value <= most) || (Number.isNaN(value) && !required);
    if (sound) continue;
    odd[row - from] = 1;
    marked++;
  }
  return marked;
}

function fillInstants(
  { from, to, at }: Piece,
  { into }: Plan<'instant'>,
  { odd, latestUs, instants }: { odd: Uint8Array; latestUs: number; instants: Float64Array },
): number {
  let marked = 0;
  for (let row = from; row < to; row++) {
    const us = instants[row]!;
    into[at + row - from] = us;
    if (us >= EARLIEST_US && us <= latestUs) continue;
    odd[row - from] = 1;
    marked++;
  }
  return marked;
}

/** Epoch milliseconds, decimals allowed. */
function fillMillis(
  { from, to, at }: Piece,
  { into }: Plan<'instant'>,
  { odd, latestUs, numbers }: { odd: Uint8Array; latestUs: number; numbers: Float64Array },
): number {
  let marked = 0;
  for (let row = from; row < to; row++) {
    const millis = numbers[row]!;
    const us = Math.round(millis * 1000);
    into[at + row - from] = us;
    if (us >= EARLIEST_US && us <= latestUs && millis < MILLIS_END) continue;
    odd[row - from] = 1;
    marked++;
  }
  return marked;
}

/** Times as text: those that the scanner of times knows at once. */
function fillTimes(
  { column, from, to, at }: Piece,
  { into }: Plan<'instant'>,
  { odd, latestUs, times }: Filling,
): number {
  const bytes = Buffer.alloc(LONGEST_TIME);
  let marked = 0;
  for (let row = from; row < to; row++) {
    const text = column.text(row);
    // Written as UTF-8: no other character turns into a digit.
    const length = typeof text === 'string' && text.length < LONGEST_TIME / 4 ? bytes.write(text) : 0;
    const us = length === 0 ? Number.NaN : times.scan(bytes, 0, length);
    into[at + row - from] = us;
    if (us >= EARLIEST_US && us <= latestUs) continue;
    odd[row - from] = 1;
    marked++;
  }
  return marked;
}

function fillWords({ column, from, to, at }: Piece, { into, words }: Plan<'word'>, { odd }: Filling): number {
  let marked = 0;
  for (let row = from; row < to; row++) {
    const text = column.text(row);
    const word = text === '' ? Number.NaN : typeof text === 'string' ? words.indexOf(text) : -1;
    into[at + row - from] = word;
    if (word !== -1) continue;
    odd[row - from] = 1;
    marked++;
  }
  return marked;
}

function fillNames(
  { column, from, to, at }: Piece,
  { into, emptyAllowed }: Plan<'text'>,
  { odd, dictionary }: Filling,
): number {
  let marked = 0;
  let index = -1;
  for (let row = from; row < to; row++) {
    if (row === from || !column.repeats(row)) {
      const text = column.text(row);
      const short = typeof text === 'string' && text.length <= SHORT_TEXT;
      index = short ? dictionary.indexOf(text) : -1;
      if (index >= 0 && !emptyAllowed && dictionary.names[index] === '') index = -1;
    }
    into[at + row - from] = index;
    if (index >= 0) continue;
    odd[row - from] = 1;
    marked++;
  }
  return marked;
}
