import { UnreadableFile } from '../../model/set-aside.ts';
import { NEWLINE, unixLineEnds } from '../bytes/line-ends.ts';
import type { ByteStream } from '../reader.ts';

/** A line longer than this is none of a bus log: the longest (64 data bytes with text) has under 400. Program. */
export const MOST_LINE_BYTES = 1 << 16;
const CAPACITY_BYTES = 1 << 20;

/**
 * Whole lines of a file, in memory one after the other; quotes mean nothing here. `visit` is given bytes [from, to),
 * each line of it with its newline; a line that is too long is told by its first bytes and passed over.
 * Returns why the file broke off before its end (a truncated gzip), after its whole lines; null for a whole file.
 */
export async function walkLines(
  bytes: ByteStream,
  visit: (bytes: Uint8Array, from: number, to: number) => Promise<void>,
  tooLong: (first: Uint8Array) => Promise<void>,
): Promise<UnreadableFile | null> {
  const held = Buffer.alloc(CAPACITY_BYTES + 1);
  let end = 0;
  let skipping = false;

  /** Hands on the lines that are whole, keeps the rest. */
  const flush = async () => {
    const whole = held.lastIndexOf(NEWLINE, end - 1) + 1;
    if (end > 0 && whole > 0) await visit(held, 0, whole);
    const from = end > 0 ? whole : 0;
    held.copyWithin(0, from, end);
    end -= from;
    if (end <= MOST_LINE_BYTES) return;
    await tooLong(held.subarray(0, end));
    skipping = true;
    end = 0;
  };

  try {
    for await (const chunk of unixLineEnds(bytes)) {
      for (let at = 0; at < chunk.length;) {
        if (skipping) {
          const newline = chunk.indexOf(NEWLINE, at);
          if (newline < 0) break;
          skipping = false;
          at = newline + 1;
        }
        const taken = Math.min(chunk.length - at, CAPACITY_BYTES - end);
        held.set(chunk.subarray(at, at + taken), end);
        end += taken;
        at += taken;
        await flush();
      }
    }
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    return error;
  }
  if (end > 0) {
    held[end] = NEWLINE;
    await visit(held, 0, end + 1);
  }
  return null;
}
