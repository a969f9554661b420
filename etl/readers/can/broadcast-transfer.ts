/**
 * Messages of more than eight bytes that a control unit sends to all (SAE J1939-21, transport protocol, BAM): an
 * announcement (TP.CM, PGN 60416, control byte 32) with size, packets and group, then packets of seven bytes each
 * (TP.DT, PGN 60160) that begin with their number. One transfer at a time from each address.
 */
export const ANNOUNCE_PGN = 60416;
export const PACKET_PGN = 60160;
const BROADCAST = 32;
const PACKET_BYTES = 7;
/** J1939-21: 1,785 bytes in 255 packets. */
const MOST_BYTES = 1785;
/** J1939-21: at most 200 ms between packets, 750 ms before the receiver gives up. */
const GIVES_UP_US = 750_000;

type Transfer = { pgn: number; size: number; packets: number; next: number; lastUs: number; bytes: Uint8Array };

export class BroadcastTransfers {
  /** Transfers given up: a packet out of order or missing, or a new announcement before the end. */
  broken = 0;
  readonly #bySource = new Map<number, Transfer>();

  announce(source: number, { data, length, timeUs }: Packet): void {
    if (length < 8 || data[0] !== BROADCAST) return;
    if (this.#bySource.delete(source)) this.broken++;
    const size = data[1]! + data[2]! * 0x100;
    const packets = data[3]!;
    if (size > MOST_BYTES || packets !== Math.ceil(size / PACKET_BYTES)) {
      this.broken++;
      return;
    }
    const pgn = data[5]! + data[6]! * 0x100 + data[7]! * 0x10000;
    const bytes = new Uint8Array(packets * PACKET_BYTES);
    this.#bySource.set(source, { pgn, size, packets, next: 1, lastUs: timeUs, bytes });
  }

  /** The whole message once its last packet is there; null before, and for a packet of no transfer (to one receiver). */
  packet(source: number, { data, length, timeUs }: Packet): { pgn: number; bytes: Uint8Array; size: number } | null {
    const transfer = this.#bySource.get(source);
    if (transfer === undefined) return null;
    const late = timeUs - transfer.lastUs > GIVES_UP_US;
    if (length < 8 || data[0] !== transfer.next || late) {
      this.#bySource.delete(source);
      this.broken++;
      return null;
    }
    transfer.bytes.set(data.subarray(1, 8), (transfer.next - 1) * PACKET_BYTES);
    transfer.lastUs = timeUs;
    if (transfer.next++ < transfer.packets) return null;
    this.#bySource.delete(source);
    return transfer;
  }

  /** The log ends: what is not whole stays so. */
  end(): void {
    this.broken += this.#bySource.size;
    this.#bySource.clear();
  }
}

export type Packet = { data: Uint8Array; length: number; timeUs: number };
