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

const MOST_PLACES = 6;
/** Beyond it a series is no longer one of decimals with few places. */
const MOST_VALUE = 1e8;

let scratch = new Uint8Array(1 << 16);

/** Writes a number at `at`, its sign in the lowest bit, seven bits a byte; gives where the next one goes. */
function putNumber(bytes: Uint8Array, at: number, value: number): number {
  let rest = value < 0 ? -2 * value - 1 : 2 * value; // in doubles: times exceed 32 bits
  while (rest >= 128) {
    const left = Math.floor(rest / 128);
    bytes[at++] = rest - left * 128 + 128;
    rest = left;
  }
  bytes[at++] = rest;
  return at;
}

/** The differences of values that are decimals of so many places; −1 where one is none, is missing or too large. */
function putDecimals(bytes: Uint8Array, at: number, { values, places }: Decimals): number {
  bytes[at++] = places;
  const scale = 10 ** places;
  let before = 0;
  let last = Number.NaN;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value === last && value !== 0) {
      bytes[at++] = 0;
      continue;
    }
    const now = Math.round(value * scale);
    if (now / scale !== value || !(Math.abs(value) < MOST_VALUE) || Object.is(value, -0)) return -1;
    at = putNumber(bytes, at, now - before);
    before = now;
    last = value;
  }
  return at;
}

type Decimals = { values: Float64Array; places: number };

function putSeries(bytes: Uint8Array, from: number, values: Float64Array): number {
  for (let places = 0; places <= MOST_PLACES; places++) {
    const at = putDecimals(bytes, from, { values, places });
    if (at >= 0) return at;
  }
  bytes[from] = RAW;
  bytes.set(new Uint8Array(values.slice().buffer), from + 1);
  return from + 1 + values.length * 8;
}

function putTimes(bytes: Uint8Array, at: number, timeUs: Float64Array): number {
  let before = 0;
  let stride = 0;
  for (let i = 0; i < timeUs.length; i++) {
    const step = timeUs[i]! - before;
    if (step === stride) bytes[at++] = 0;
    else at = putNumber(bytes, at, step - stride);
    before = timeUs[i]!;
    stride = step;
  }
  return at;
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
  const bytes = scratch;
  let at = putNumber(bytes, 0, VERSION);
  at = putNumber(bytes, at, count);
  at = putNumber(bytes, at, amps === null ? 0 : 1);
  at = putTimes(bytes, at, timeUs);
  at = putSeries(bytes, at, volts);
  if (amps !== null) at = putSeries(bytes, at, amps);
  // A copy: a Buffer of zlib's may be part of a larger block, which would be held, or sent to another thread, whole.
  return new Uint8Array(deflateRawSync(bytes.subarray(0, at), { level: 1 }));
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
