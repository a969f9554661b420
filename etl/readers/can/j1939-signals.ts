/**
 * Signals of SAE J1939-71 that bear on starting, by table. Scale, offset and place as in the standard (SPN 1675 from
 * memory); checked against frames of real vehicles. Bytes count from 1, low byte first.
 *
 * Worked example: 18FEF700 FFFFFFFF1901FFFF is PGN 65271; SPN 168 stands in bytes 5–6: 0x0119 · 0.05 V = 14.05 V.
 */
import type { BusSignal } from '../../model/bus-signals.ts';
import { LIMITS, type Limit } from '../kinds/column-limits.ts';

export type SignalPlace = {
  spn: number;
  name: string;
  pgn: number;
  /** First byte, from 1. */
  byte: number;
  /** Whole bytes; 4 is the low half of one. */
  bits: 4 | 8 | 16 | 32;
  /** Counts of the raw value in one unit: a scale of 0.05 V is 20. Dividing keeps 14.05 what it is. */
  perUnit: number;
  offset: number;
  /** What can be: a sender that has never measured sends zeros, which may be no value at all. */
  limit: Limit;
  /** What it is handed on as; null where it is only looked at. */
  signal: BusSignal | null;
};

/** A vehicle's total: 32 bits of 0.125 km. */
const DISTANCE: Limit = { least: 0, most: 526_385_152, unit: 'km' };
/** A control unit that sends is alive: no bank stands below this. Program. */
const BANK_VOLTS: Limit = { least: 3, most: LIMITS.volts.most, unit: 'V' };
const ANY_VOLTS: Limit = { ...BANK_VOLTS, least: 0 };

export const J1939_SIGNALS: readonly SignalPlace[] = [
  row(168, 'battery potential', { pgn: 65271, byte: 5, bits: 16, perUnit: 20, limit: BANK_VOLTS }, 'batteryVolts'),
  row(158, 'keyswitch potential', { pgn: 65271, byte: 7, bits: 16, perUnit: 20, limit: ANY_VOLTS }, 'keyswitchVolts'),
  row(167, 'charging potential', { pgn: 65271, byte: 3, bits: 16, perUnit: 20, limit: ANY_VOLTS }, null),
  row(114, 'net battery current', { pgn: 65271, byte: 1, bits: 8, perUnit: 1, offset: -125, limit: LIMITS.amps }, null),
  row(190, 'engine speed', { pgn: 61444, byte: 4, bits: 16, perUnit: 8, limit: LIMITS.rpm }, 'engineRpm'),
  row(1675, 'starter mode', { pgn: 61444, byte: 7, bits: 4, perUnit: 1, limit: codes(12) }, 'starterMode'),
  row(
    110,
    'coolant temperature',
    { pgn: 65262, byte: 1, bits: 8, perUnit: 1, offset: -40, limit: LIMITS.coolantC },
    'coolantC',
  ),
  row(
    171,
    'ambient temperature',
    { pgn: 65269, byte: 4, bits: 16, perUnit: 32, offset: -273, limit: LIMITS.tempC },
    'ambientC',
  ),
  row(247, 'engine hours', { pgn: 65253, byte: 1, bits: 32, perUnit: 20, limit: { ...DISTANCE, unit: 'h' } }, null),
  row(245, 'distance', { pgn: 65248, byte: 5, bits: 32, perUnit: 8, limit: DISTANCE }, null),
  row(917, 'distance', { pgn: 65217, byte: 1, bits: 32, perUnit: 200, limit: DISTANCE }, null),
];

type Place = Pick<SignalPlace, 'pgn' | 'byte' | 'bits' | 'perUnit' | 'limit'> & { offset?: number };

function row(spn: number, name: string, place: Place, signal: BusSignal | null): SignalPlace {
  return { spn, name, signal, offset: 0, ...place };
}

function codes(most: number): Limit {
  return { least: 0, most, unit: '(a code)' };
}

/** Greatest raw value that is a reading; above stand parameter codes, 0xFE… error, 0xFF… not available (J1939-71 table 1). */
const GREATEST = { 4: 0xd, 8: 0xfa, 16: 0xfaff, 32: 0xfaffffff } as const;

/** The value of one signal in a frame's data; NaN where it is not available, in error, or beyond the data. */
export function readSignal({ byte, bits, perUnit, offset }: SignalPlace, data: Uint8Array, length: number): number {
  const at = byte - 1;
  if (at + Math.ceil(bits / 8) > length) return Number.NaN;
  const raw = rawValue(data, at, bits);
  return raw > GREATEST[bits] ? Number.NaN : raw / perUnit + offset;
}

function rawValue(data: Uint8Array, at: number, bits: SignalPlace['bits']): number {
  const low = data[at]!;
  if (bits === 4) return low & 0xf;
  if (bits === 8) return low;
  const word = low + data[at + 1]! * 0x100;
  return bits === 16 ? word : word + data[at + 2]! * 0x10000 + data[at + 3]! * 0x1000000;
}

/**
 * Parameter group of a 29-bit id: below PDU format 240 (PDU1) the low byte is a destination, else part of the group.
 * `0CF00400` → 61444; `18DA00F9` → 0xDA00.
 */
export function pgnOf(id: number): number {
  const group = (id >>> 8) & 0x3ffff;
  return ((group >>> 8) & 0xff) < 240 ? group & 0x3ff00 : group;
}

/** Address of the control unit that sends. */
export function sourceOf(id: number): number {
  return id & 0xff;
}
