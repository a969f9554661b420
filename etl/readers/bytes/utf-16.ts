import type { ImportProfile } from '../../model/import-profile.ts';
import { UnreadableFile } from '../../model/set-aside.ts';
import type { ByteStream } from '../reader.ts';

export type Utf16 = 'utf-16le' | 'utf-16be';

/** Fewer bytes without a byte-order mark are not judged. */
const JUDGED_BYTES = 16;
const LOOKED_AT_BYTES = 512;

/**
 * UTF-16 is told by its byte-order mark (Unicode 15, 2.6), or, without one, by every second byte being zero as in
 * any table of western letters and digits. Null for all else: no other shape of file begins so.
 */
export function utf16Of(start: Uint8Array): Utf16 | null {
  if (start[0] === 0xff && start[1] === 0xfe) return 'utf-16le';
  if (start[0] === 0xfe && start[1] === 0xff) return 'utf-16be';
  const length = Math.min(start.length - (start.length % 2), LOOKED_AT_BYTES);
  if (length < JUDGED_BYTES) return null;
  const letters = [0, 0];
  for (let at = 0; at < length; at++) if (start[at] !== 0) letters[at % 2]!++;
  // A degree sign or an ohm leaves a few high bytes that are not zero, an emoji a low one that is.
  const [even, odd] = [letters[0]! / (length / 2), letters[1]! / (length / 2)];
  if (even > 0.9 && odd < 0.1) return 'utf-16le';
  return odd > 0.9 && even < 0.1 ? 'utf-16be' : null;
}

/** The same text in UTF-8, streamed; without a given encoding, bytes that are not UTF-16 pass untouched. */
export async function* utf8Text(bytes: ByteStream, encoding?: ImportProfile['encoding']): ByteStream {
  let decoder: TextDecoder | null = null;
  let decided = false;
  let ended = false;
  try {
    for await (const chunk of judgeable(bytes)) {
      if (!decided) {
        decided = true;
        const found = encoding === undefined ? utf16Of(chunk) : encoding === 'utf-8' ? null : encoding;
        decoder = found === null ? null : new TextDecoder(found, { fatal: true });
      }
      if (decoder === null) yield chunk;
      else yield Buffer.from(decoder.decode(chunk, { stream: true }));
    }
    ended = true;
    if (decoder !== null) yield Buffer.from(decoder.decode());
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    const got = ended ? 'half a character at its end' : 'bytes that are none';
    throw new UnreadableFile(`file requires whole UTF-16 text, got ${got}`, { cause: error });
  }
}

/** The first chunk is long enough to be judged by, unless the file is not. */
async function* judgeable(bytes: ByteStream): ByteStream {
  let held: Uint8Array | null = new Uint8Array(0);
  for await (const chunk of bytes) {
    if (held === null) yield chunk;
    else {
      held = held.length === 0 && chunk.length >= JUDGED_BYTES ? chunk : Buffer.concat([held, chunk]);
      if (held.length < JUDGED_BYTES) continue;
      yield held;
      held = null;
    }
  }
  if (held !== null && held.length > 0) yield held;
}
