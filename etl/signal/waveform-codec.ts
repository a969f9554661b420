/**
 * A waveform as bytes and back, exactly: for keeping the samples around a crank so that a person can look at them.
 *
 * Sensors write decimals with few places, so a series is held as integers of 10⁻ᵏ (the smallest k ≤ 6 that is exact),
 * as differences in variable-length integers, deflated at level 1. Times are integer µs, held as second differences,
 * so that even jitter costs a byte or two a sample. A series that no k fits is held as raw Float64. Missing amps stay
 * missing.
 *
 * Bytes: deflate( version, count, flags, times, volts, [amps] ).
 */
import { deflateRawSync, inflateRawSync } from 'node:zlib';

export type Waveform = { timeUs: Float64Array; volts: Float64Array; amps: Float64Array | null };

const VERSION = 1;
const RAW = 255;
/** Two bytes a sample is common; ten is the most that one number takes. */
const MOST_BYTES_PER_NUMBER = 10;

let scratch = new Uint8Array(1 << 16);
let position = 0;

function putNumber(value: number): void {
  let rest = value < 0 ? -2 * value - 1 : 2 * value; // zigzag, in doubles: times exceed 32 bits
  while (rest >= 128) {
    scratch[position++] = (rest % 128) + 128;
    rest = Math.floor(rest / 128);
  }
  scratch[position++] = rest;
}

/** Decimal places that hold every value exactly; -1 if more than 6 or if values are missing or too large. */
function decimalPlaces(values: Float64Array): number {
  let scale = 1;
  let places = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!(Math.abs(value) < 1e8) || Object.is(value, -0)) return -1;
    while (Math.round(value * scale) / scale !== value) {
      if (++places > 6) return -1;
      scale *= 10;
      i = -1; // every earlier value must be exact at this scale too
      break;
    }
  }
  return places;
}

function putSeries(values: Float64Array): void {
  const places = decimalPlaces(values);
  if (places < 0) {
    scratch[position++] = RAW;
    scratch.set(new Uint8Array(values.slice().buffer), position);
    position += values.length * 8;
    return;
  }
  scratch[position++] = places;
  const scale = 10 ** places;
  let before = 0;
  for (let i = 0; i < values.length; i++) {
    const now = Math.round(values[i]! * scale);
    putNumber(now - before);
    before = now;
  }
}

/** Encodes `timeUs.length` samples; all series have that length. Throws RangeError if they do not. */
export function encodeWaveform(waveform: Waveform): Uint8Array {
  const { timeUs, volts, amps } = waveform;
  const count = timeUs.length;
  if (volts.length !== count || (amps !== null && amps.length !== count))
    throw new RangeError(
      `waveform requires series of one length, got ${count} times and ${volts.length} volts (encode)`,
    );
  const most = 32 + count * MOST_BYTES_PER_NUMBER * 3;
  if (scratch.length < most) scratch = new Uint8Array(most * 2);
  position = 0;
  putNumber(VERSION);
  putNumber(count);
  putNumber(amps === null ? 0 : 1);
  let before = 0;
  let stride = 0;
  for (let i = 0; i < count; i++) {
    const step = timeUs[i]! - before;
    putNumber(step - stride);
    before = timeUs[i]!;
    stride = step;
  }
  putSeries(volts);
  if (amps !== null) putSeries(amps);
  // A copy: a Buffer of zlib's may be part of a larger block, which would be held, or sent to another thread, whole.
  return new Uint8Array(deflateRawSync(scratch.subarray(0, position), { level: 1 }));
}

class WaveformBytes {
  private at = 0;
  private readonly bytes: Uint8Array;
  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }
  number(): number {
    let value = 0;
    let scale = 1;
    for (;;) {
      const byte = this.bytes[this.at++];
      if (byte === undefined) throw new RangeError('waveform requires whole bytes, got a shortened block (decode)');
      value += (byte & 127) * scale;
      if (byte < 128) break;
      scale *= 128;
    }
    return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
  }
  series(count: number): Float64Array {
    const places = this.bytes[this.at++];
    if (places === RAW) {
      // A copy: the slice of a Buffer is a view whose own buffer begins elsewhere.
      const raw = new Uint8Array(this.bytes.subarray(this.at, this.at + count * 8));
      this.at += count * 8;
      return new Float64Array(raw.buffer, 0, count);
    }
    const scale = 10 ** (places ?? 0);
    const values = new Float64Array(count);
    let now = 0;
    for (let i = 0; i < count; i++) values[i] = (now += this.number()) / scale;
    return values;
  }
}

/** The samples as they were encoded, to the last bit. Throws RangeError for bytes that are no waveform. */
export function decodeWaveform(bytes: Uint8Array): Waveform {
  const input = new WaveformBytes(inflateRawSync(bytes));
  const version = input.number();
  if (version !== VERSION) throw new RangeError(`waveform requires version ${VERSION}, got ${version} (decode)`);
  const count = input.number();
  const hasAmps = input.number() === 1;
  const timeUs = new Float64Array(count);
  let now = 0;
  let stride = 0;
  for (let i = 0; i < count; i++) {
    stride += input.number();
    now += stride;
    timeUs[i] = now;
  }
  const volts = input.series(count);
  return { timeUs, volts, amps: hasAmps ? input.series(count) : null };
}
