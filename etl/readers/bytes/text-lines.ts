import { NEWLINE } from './line-ends.ts';
import type { ByteStream } from '../reader.ts';
import { MAX_ROW_BYTES } from '../csv/row-window.ts';

/** A physical line that is not blank, or what is wrong with it. */
export type TextLine = { line: number; text: string; fault: string | null };

const SHOWN_BYTES = 800;
const strict = new TextDecoder('utf-8', { fatal: true });

/** The lines of a text, some at a time. A line that is too long is not held in memory. */
export async function* textLines(bytes: ByteStream): AsyncGenerator<TextLine[]> {
  const begun: Uint8Array[] = [];
  let length = 0;
  let line = 1;
  const add = (piece: Uint8Array) => {
    if (length <= MAX_ROW_BYTES) begun.push(Uint8Array.from(piece));
    length += piece.length;
  };
  const end = (piece: Uint8Array): TextLine => {
    if (length > 0) add(piece);
    const whole = length > 0 ? Buffer.concat(begun) : Buffer.from(piece.buffer, piece.byteOffset, piece.length);
    const fault = Math.max(length, piece.length) > MAX_ROW_BYTES ? 'line requires at most 1 MiB' : null;
    begun.length = 0;
    length = 0;
    return lineOf(whole, line++, fault);
  };
  for await (const chunk of bytes) {
    const lines: TextLine[] = [];
    let from = 0;
    for (let at = chunk.indexOf(NEWLINE); at >= 0; at = chunk.indexOf(NEWLINE, from)) {
      lines.push(end(chunk.subarray(from, at)));
      from = at + 1;
    }
    if (from < chunk.length) add(chunk.subarray(from));
    yield lines.filter(isFilled);
  }
  if (length > 0) yield [end(new Uint8Array(0))].filter(isFilled);
}

function isFilled({ text, fault }: TextLine): boolean {
  return fault !== null || text.trim() !== '';
}

function lineOf(bytes: Buffer, line: number, fault: string | null): TextLine {
  if (fault !== null) return { line, text: bytes.toString('utf8', 0, SHOWN_BYTES), fault };
  const text = bytes.toString('utf8');
  return { line, text, fault: text.includes('\uFFFD') && !isUtf8(bytes) ? 'line requires text in UTF-8' : null };
}

function isUtf8(bytes: Buffer): boolean {
  try {
    strict.decode(bytes);
    return true;
  } catch {
    return false;
  }
}
