import { UnreadableFile } from '../model/set-aside.ts';
import { FILE_SHAPES } from './all-shapes.ts';
import { doubtingReader } from './kinds/doubtful-units.ts';
import { unixLineEnds } from './bytes/line-ends.ts';
import type { FileStart, OpenedFile, ReadOptions, Sniffed } from './reader.ts';
import { utf8Text } from './bytes/utf-16.ts';

/** What is looked at: a header longer than this is none. */
const START_BYTES = 1 << 16;

/** Looks at the beginning of a file: what it is is told by its content, never by its name. */
export async function sniffFile(file: OpenedFile, options: ReadOptions = {}): Promise<Sniffed> {
  try {
    const start = await startOf(file, options);
    const shape = FILE_SHAPES.find((each) => each.recognises(start));
    const sniffed = await shape?.readerOf(start, options);
    if (sniffed === undefined) return { unrecognised: 'file requires a known shape, got another' };
    return 'reader' in sniffed ? { reader: doubtingReader(sniffed.reader) } : sniffed;
  } catch (error) {
    if (error instanceof UnreadableFile) return { unrecognised: error.message };
    throw error;
  }
}

async function startOf({ path, bytes }: OpenedFile, { profile }: ReadOptions): Promise<FileStart> {
  const parts: Uint8Array[] = [];
  let length = 0;
  try {
    for await (const chunk of unixLineEnds(utf8Text(bytes, profile?.encoding))) {
      // A copy of its own, the chunk is filled again; `slice` of a Buffer would be a view.
      parts.push(new Uint8Array(chunk.subarray(0, START_BYTES - length)));
      length += parts.at(-1)!.length;
      if (length >= START_BYTES) break;
    }
  } catch (error) {
    // A small file that breaks off is told by what comes before the break, like a large one.
    if (!(error instanceof UnreadableFile) || length === 0) throw error;
  }
  return { path, bytes: parts.length === 1 ? parts[0]! : Buffer.concat(parts) };
}
