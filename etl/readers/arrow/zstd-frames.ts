import { ZSTDDecoder } from 'zstddec';

const decoder = new ZSTDDecoder();
/** Mark, descriptor, size and the head of a block: a frame that holds a byte is longer. RFC 8878, section 3.1.1. */
const EMPTY_FRAME_BYTES = 9;

/** To be waited for once, before `unpackZstdFrames`. */
export async function zstdReady(): Promise<void> {
  await decoder.init();
}

/**
 * Unpacks Zstandard frames (RFC 8878), which Arrow files may be packed with; Node 20 has no decoder of its own. `room` is
 * how many bytes may come out. The library gives nothing for what it refuses. Throws RangeError for damaged data.
 */
export function unpackZstdFrames(packed: Uint8Array, room: number): Uint8Array {
  if (packed.length === 0) return packed;
  const unpacked = decoder.decode(packed, room);
  if (unpacked.length === 0 && packed.length > EMPTY_FRAME_BYTES)
    throw new RangeError(
      `Zstandard frames require whole blocks and no dictionary, and at most ${room} bytes unpacked, got others`,
    );
  return unpacked;
}
