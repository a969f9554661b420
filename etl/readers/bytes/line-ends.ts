import type { ByteStream } from '../reader.ts';

export const CARRIAGE_RETURN = 13;
export const NEWLINE = 10;

/**
 * Lines that end in a lone carriage return (old spreadsheets) become lines that end in a newline; every other file
 * passes untouched. The first line end decides for the whole file.
 */
export async function* unixLineEnds(bytes: ByteStream): ByteStream {
  let ends: 'undecided' | 'kept' | 'translated' = 'undecided';
  let heldReturn = false;
  for await (const chunk of bytes) {
    if (ends === 'kept') {
      yield chunk;
      continue;
    }
    const text: Uint8Array = heldReturn ? withReturnBefore(chunk) : chunk;
    heldReturn = false;
    if (ends === 'undecided') {
      const at = text.findIndex((byte) => byte === CARRIAGE_RETURN || byte === NEWLINE);
      if (at >= 0 && text[at] === CARRIAGE_RETURN && at === text.length - 1) {
        heldReturn = true;
        yield text.subarray(0, at);
        continue;
      }
      if (at >= 0) ends = text[at] === NEWLINE || text[at + 1] === NEWLINE ? 'kept' : 'translated';
    }
    yield ends === 'translated' ? text.map((byte) => (byte === CARRIAGE_RETURN ? NEWLINE : byte)) : text;
  }
  if (heldReturn) yield Uint8Array.of(NEWLINE);
}

function withReturnBefore(chunk: Uint8Array): Uint8Array {
  const joined = new Uint8Array(chunk.length + 1);
  joined[0] = CARRIAGE_RETURN;
  joined.set(chunk, 1);
  return joined;
}
