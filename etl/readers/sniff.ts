import { UnreadableFile } from '../model/set-aside.ts';
import { KIND_COLUMNS, READERS } from './all-readers.ts';
import { headerFields } from './header.ts';
import { unixLineEnds } from './line-ends.ts';
import type { ByteStream, Reader } from './reader.ts';

/** The reader for a file, or why there is none, in words that say what to do. */
export type Sniffed = { reader: Reader } | { unrecognised: string };

/** A header longer than this is none. */
const HEADER_BYTES = 1 << 16;

/** Looks at the beginning of a file: its kind is told by its columns, never by its name. */
export async function sniffFile(bytes: ByteStream): Promise<Sniffed> {
  let start: Uint8Array;
  try {
    start = await firstLine(bytes);
  } catch (error) {
    if (error instanceof UnreadableFile) return { unrecognised: error.message };
    throw error;
  }
  if (start.length === 0) return { unrecognised: 'file requires a header row, got an empty file' };
  const fault = notText(start);
  if (fault !== null) return { unrecognised: fault };
  const columns = headerFields(start);
  const reader = READERS.find((each) => each.recognises(columns));
  return reader === undefined ? { unrecognised: explain(columns, start) } : { reader };
}

async function firstLine(bytes: ByteStream): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of unixLineEnds(bytes)) {
    const newline = chunk.indexOf(10);
    parts.push(Uint8Array.from(newline < 0 ? chunk : chunk.subarray(0, newline)));
    length += parts.at(-1)!.length;
    if (newline >= 0 || length > HEADER_BYTES) break;
  }
  return Buffer.concat(parts).subarray(0, HEADER_BYTES);
}

function notText(start: Uint8Array): string | null {
  const mark = start[0]! * 256 + (start[1] ?? 0);
  if (mark === 0xfffe || mark === 0xfeff) return 'file requires UTF-8 text, got UTF-16: save it as CSV UTF-8';
  if (start[0] === 0x50 && start[1] === 0x4b)
    return 'file requires a table as text, got a ZIP archive or spreadsheet: save it as CSV';
  if (start.includes(0)) return 'file requires a table as text, got binary data';
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(start, { stream: true });
  } catch {
    return 'file requires UTF-8 text, got other bytes: save it as CSV UTF-8';
  }
  return null;
}

const DELIMITERS: [string, string][] = [
  [';', 'semicolons'],
  ['\t', 'tabs'],
  ['|', 'bars'],
];

function explain(columns: readonly string[], start: Uint8Array): string {
  const header = Buffer.from(start.subarray(0, 4096)).toString('utf8').toLowerCase();
  for (const [mark, name] of DELIMITERS) {
    const split = header.split(mark).map((column) => column.replace(/[\uFEFF"\r]/g, '').trim());
    if (READERS.some((reader) => reader.recognises(split))) return `file requires commas between columns, got ${name}`;
  }
  const [kind, lacking] = nearestKind(columns);
  const shown = columns
    .slice(0, 12)
    .map((column) => column.slice(0, 40))
    .join(', ');
  if (lacking.length === KIND_COLUMNS[kind].length) return `file requires the columns of a known kind, got ${shown}`;
  return `file requires the columns of a known kind, got ${shown}: nearest is ${kind}, which also needs ${lacking.join(', ')}`;
}

function nearestKind(columns: readonly string[]): [Reader['kind'], string[]] {
  const kinds = Object.entries(KIND_COLUMNS) as [Reader['kind'], readonly string[]][];
  const lacks = kinds.map(([kind, needed]) => [kind, needed.filter((name) => !columns.includes(name))] as const);
  const share = ([kind, lacking]: (typeof lacks)[number]) => lacking.length / KIND_COLUMNS[kind].length;
  const [kind, lacking] = lacks.reduce((best, each) => (share(each) < share(best) ? each : best));
  return [kind, lacking];
}
