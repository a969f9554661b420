/**
 * Answers of a control unit to a tester, up to 4,095 bytes (ISO 15765-2): a single frame (`0n`), or a first frame
 * (`1n nn`) and consecutive ones (`2n`, n counts 1 to 15, then 0). One answer at a time on each id.
 */
import type { Packet } from './broadcast-transfer.ts';

type Answer = { size: number; filled: number; next: number; bytes: Uint8Array; lastUs: number };

/** ISO 15765-2: the receiver gives up after 1 s (N_Cr). */
const GIVES_UP_US = 1e6;

export class SegmentedAnswers {
  /** Answers given up: a frame out of order or missing. */
  broken = 0;
  readonly #byId = new Map<number, Answer>();

  /** The whole answer once it is there; null before, and for a frame that is none. */
  frame(id: number, packet: Packet): Uint8Array | null {
    const { data, length } = packet;
    if (length < 2) return null;
    const form = data[0]! >>> 4;
    const low = data[0]! & 0xf;
    if (form === 0) return low > 0 && low < length ? data.subarray(1, 1 + low) : null;
    if (form === 1) return this.#first(id, packet);
    return form === 2 ? this.#consecutive(id, packet) : null;
  }

  /** The log ends: what is not whole stays so. */
  end(): void {
    this.broken += this.#byId.size;
    this.#byId.clear();
  }

  #first(id: number, { data, length, timeUs }: Packet): null {
    if (this.#byId.delete(id)) this.broken++;
    const size = (data[0]! & 0xf) * 0x100 + data[1]!;
    const bytes = new Uint8Array(size);
    const filled = Math.min(size, length - 2);
    bytes.set(data.subarray(2, 2 + filled));
    if (filled < size) this.#byId.set(id, { size, filled, next: 1, bytes, lastUs: timeUs });
    return null;
  }

  #consecutive(id: number, { data, length, timeUs }: Packet): Uint8Array | null {
    const answer = this.#byId.get(id);
    if (answer === undefined) return null;
    if ((data[0]! & 0xf) !== answer.next || timeUs - answer.lastUs > GIVES_UP_US) {
      this.#byId.delete(id);
      this.broken++;
      return null;
    }
    const taken = Math.min(answer.size - answer.filled, length - 1);
    answer.bytes.set(data.subarray(1, 1 + taken), answer.filled);
    answer.filled += taken;
    answer.next = (answer.next + 1) % 16;
    answer.lastUs = timeUs;
    if (answer.filled < answer.size) return null;
    this.#byId.delete(id);
    return answer.bytes;
  }
}
