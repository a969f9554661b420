import { UnreadableFile } from '../../model/set-aside.ts';
import { CARRIAGE_RETURN, NEWLINE, unixLineEnds } from '../bytes/line-ends.ts';
import type { ByteStream } from '../reader.ts';

export const COMMA = 44;
export const QUOTE = 34;

/** A line longer than this is no row of any of our kinds; it is set aside without being held in memory. */
export const MAX_ROW_BYTES = 1 << 20;
/** A quote that is still open after so many bytes is a stray one: only its own line is lost, not the rest of the file. */
export const MAX_QUOTED_BYTES = 1 << 16;

/** Room behind the text, so that a scanner may compare some bytes past the end without looking where it stands. */
export const SLACK_BYTES = 64;
const CAPACITY_BYTES = 2 * MAX_ROW_BYTES + 2;
/** Held at first: it stays in the processor's cache, and a small file touches no more memory than this. */
export const FIRST_BYTES = 1 << 18;

const NEEDS_MORE = -1;
const STRAY = -2;

export type RowFault = 'too_long' | 'open_quote';
export const ROW_FAULTS: Record<RowFault, string> = {
  too_long: 'row requires at most 1 MiB on one line',
  open_quote: 'row requires a closing quote',
};

/**
 * The part of a file that is in memory: text from `start` to `end`, `start` always at the beginning of a row. Where a
 * row ends depends on its bytes alone, never on how the file came in chunks.
 */
export class RowWindow {
  bytes: Buffer;
  view: DataView;
  start = 0;
  end = 0;
  /** 1-based line on which the row at `start` begins. */
  line = 1;
  /** No more bytes will come: the last row may end without a line end. */
  ended = false;
  /** What is wrong with the row that `nextRowEnd` found. */
  fault: RowFault | null = null;

  #linesInside = 0;
  #skippingLongLine = false;
  readonly #delimiter: number;

  /** `memory`: where the text is to stand while it fits. */
  constructor(delimiter = COMMA, memory = Buffer.alloc(FIRST_BYTES + SLACK_BYTES)) {
    this.#delimiter = delimiter;
    this.bytes = memory;
    this.view = new DataView(memory.buffer, memory.byteOffset, memory.byteLength);
  }

  /** Takes as much of the chunk as there is room for and returns how many bytes it took. */
  append(chunk: Uint8Array): number {
    let from = 0;
    if (this.#skippingLongLine) {
      const newline = chunk.indexOf(NEWLINE);
      if (newline < 0) return chunk.length;
      this.#skippingLongLine = false;
      this.line += 1;
      from = newline + 1;
    }
    if (this.start > 0) {
      this.bytes.copyWithin(0, this.start, this.end);
      this.end -= this.start;
      this.start = 0;
    }
    if (this.end + SLACK_BYTES === this.bytes.length) this.#grow();
    const taken = Math.min(chunk.length - from, this.bytes.length - SLACK_BYTES - this.end);
    this.bytes.set(chunk.subarray(from, from + taken), this.end);
    this.end += taken;
    return from + taken;
  }

  /**
   * Where the row at `start` ends: the index of its newline (or of the end of the file), -1 when more bytes are needed
   * to tell. `fault` says when that row cannot be split into fields; the row is then one physical line.
   */
  nextRowEnd(): number {
    const { bytes, start } = this;
    const delimiter = this.#delimiter;
    const stop = Math.min(this.end, start + MAX_ROW_BYTES + 1);
    this.fault = null;
    this.#linesInside = 0;
    let fieldBegins = true;
    let at = start;
    for (; at < stop; at += 1) {
      const byte = bytes[at]!;
      if (byte === NEWLINE) return at;
      if (byte === QUOTE && fieldBegins) {
        const close = this.#closingQuote(at);
        if (close === NEEDS_MORE) return NEEDS_MORE;
        if (close === STRAY) return this.#strayQuoteLine(stop);
        at = close;
      }
      fieldBegins = byte === delimiter;
    }
    return this.#unended(at);
  }

  /** Moves to the row after the one that ends at `rowEnd`. */
  pass(rowEnd: number): void {
    if (this.fault === 'too_long') {
      const newline = this.bytes.subarray(0, this.end).indexOf(NEWLINE, rowEnd);
      this.#skippingLongLine = newline < 0;
      this.start = newline < 0 ? this.end : newline + 1;
      this.line += this.#linesInside + (newline < 0 ? 0 : 1);
      return;
    }
    this.start = Math.min(rowEnd + 1, this.end);
    this.line += 1 + this.#linesInside;
  }

  /** Gives up what is left, after a file that broke off in the middle of a row. */
  breakOff(): void {
    this.ended = true;
    this.end = this.start;
  }

  /** A row is longer than the window: more room, up to what the longest row needs. */
  #grow(): void {
    const longer = Buffer.alloc(Math.min(CAPACITY_BYTES, 2 * this.end) + SLACK_BYTES);
    longer.set(this.bytes.subarray(0, this.end));
    this.bytes = longer;
    this.view = new DataView(longer.buffer, longer.byteOffset, longer.byteLength);
  }

  /** Index of the quote that closes the one at `open`, or of the quote that shows it is text; lines inside counted. */
  #closingQuote(open: number): number {
    const { bytes, end, ended } = this;
    const stop = Math.min(end, open + MAX_QUOTED_BYTES);
    for (let at = open + 1; at < stop; at += 1) {
      const byte = bytes[at]!;
      if (byte === NEWLINE) this.#linesInside += 1;
      if (byte !== QUOTE) continue;
      if (!ended && at + 2 >= end) return NEEDS_MORE;
      if (at + 1 < end && bytes[at + 1] === QUOTE) at += 1;
      else if (endsField(bytes, at + 1, end, this.#delimiter)) return at;
      else return this.#linesInside > 0 ? STRAY : at;
    }
    return stop === open + MAX_QUOTED_BYTES || ended ? STRAY : NEEDS_MORE;
  }

  #strayQuoteLine(stop: number): number {
    this.#linesInside = 0;
    const newline = this.bytes.subarray(0, stop).indexOf(NEWLINE, this.start);
    const rowEnd = newline < 0 ? this.#unended(stop) : newline;
    if (rowEnd >= 0) this.fault ??= 'open_quote';
    return rowEnd;
  }

  #unended(at: number): number {
    if (at - this.start > MAX_ROW_BYTES) {
      this.fault = 'too_long';
      return at;
    }
    return this.ended && this.end > this.start ? this.end : NEEDS_MORE;
  }
}

/** Whether a field may end before index `at`: at a delimiter, a line end or the end of the text. */
function endsField(bytes: Uint8Array, at: number, end: number, delimiter: number): boolean {
  if (at >= end) return true;
  const byte = bytes[at];
  if (byte === delimiter || byte === NEWLINE) return true;
  return byte === CARRIAGE_RETURN && (at + 1 >= end || bytes[at + 1] === NEWLINE);
}

/** A row of nothing but blanks is no row. */
export function isBlank({ bytes, start }: RowWindow, end: number): boolean {
  for (let at = start; at < end; at += 1)
    if (bytes[at] !== 32 && bytes[at] !== CARRIAGE_RETURN && bytes[at] !== 9) return false;
  return true;
}

/**
 * Moves a window over a file; `visit` passes every row that is whole. Returns why the file broke off before its end (a
 * truncated gzip), after its good rows have been visited; null for a whole file.
 */
export async function walkWindows(
  bytes: ByteStream,
  window: RowWindow,
  visit: () => Promise<void>,
): Promise<UnreadableFile | null> {
  try {
    for await (const chunk of unixLineEnds(bytes)) {
      for (let from = 0; from < chunk.length;) {
        from += window.append(from === 0 ? chunk : chunk.subarray(from));
        await visit();
      }
    }
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    window.breakOff();
    return error;
  }
  window.ended = true;
  await visit();
  return null;
}
