import { inflateRawSync } from 'node:zlib';
import { UnreadableFile } from '../../model/set-aside.ts';

/** Sizes of a ZIP archive that is held in memory as a whole. Program. */
export type ZipLimits = { bytes: number; unzippedBytes: number };

const END_BYTES = 22;
const HEADER_BYTES = 46;
const [END, HEADER, LOCAL] = [0x06054b50, 0x02014b50, 0x04034b50];

export type ZipEntry = { name: string; content: () => Buffer };

/**
 * The entries of a ZIP archive (PKWARE APPNOTE 4.3), by the directory at its end. What an entry unzips to is held to the
 * size that the directory gives, and their sum to a limit: a small archive may promise, or hold, far more than memory.
 */
export function zipEntries(archive: Buffer, where: string, limits: ZipLimits): ZipEntry[] {
  const entries = whole(where, () => entriesOf(archive, where, limits));
  return entries.map(({ name, content }) => ({ name, content: () => whole(where, content) }));
}

/** Places in a damaged archive lie outside of it, or hold something else. */
function whole<Result>(where: string, read: () => Result): Result {
  try {
    return read();
  } catch (error) {
    if (error instanceof UnreadableFile) throw error;
    throw new UnreadableFile(`spreadsheet requires a whole ZIP archive, got a damaged one (${where})`, {
      cause: error,
    });
  }
}

function entriesOf(archive: Buffer, where: string, limits: ZipLimits): ZipEntry[] {
  const end = archive.lastIndexOf(Buffer.from('PK\u0005\u0006', 'latin1'));
  if (end < 0 || archive.length - end < END_BYTES || archive.readUInt32LE(end) !== END)
    throw new UnreadableFile(`spreadsheet requires a whole ZIP archive, got one that ends early (${where})`);
  const entries: ZipEntry[] = [];
  let total = 0;
  let at = archive.readUInt32LE(end + 16);
  for (let count = archive.readUInt16LE(end + 10); count > 0; count--) {
    if (archive.readUInt32LE(at) !== HEADER) throw new RangeError('no header');
    const size = archive.readUInt32LE(at + 24);
    total += size;
    if (total > limits.unzippedBytes)
      throw new UnreadableFile(
        `spreadsheet requires at most ${limits.unzippedBytes} bytes unzipped, got more: save it as CSV (${where})`,
      );
    const [nameLength, extra, comment] = [28, 30, 32].map((field) => archive.readUInt16LE(at + field)) as Lengths;
    const name = archive.toString('utf8', at + HEADER_BYTES, at + HEADER_BYTES + nameLength);
    const header = at;
    entries.push({ name, content: () => contentOf(archive, header, { size, where }) });
    at += HEADER_BYTES + nameLength + extra + comment;
  }
  return entries;
}

type Lengths = [name: number, extra: number, comment: number];

function contentOf(archive: Buffer, header: number, { size, where }: { size: number; where: string }): Buffer {
  const place = archive.readUInt32LE(header + 42);
  if (archive.readUInt32LE(place) !== LOCAL) throw new RangeError('no local header');
  const from = place + 30 + archive.readUInt16LE(place + 26) + archive.readUInt16LE(place + 28);
  const packed = archive.subarray(from, from + archive.readUInt32LE(header + 20));
  const stored = archive.readUInt16LE(header + 10) === 0;
  try {
    const content = stored ? packed : inflateRawSync(packed, { maxOutputLength: Math.max(1, size) });
    if (content.length === size) return content;
  } catch (error) {
    throw new UnreadableFile(`spreadsheet requires a whole ZIP archive, got damaged data (${where})`, { cause: error });
  }
  throw new UnreadableFile(`spreadsheet requires entries of the size that they promise, got others (${where})`);
}
