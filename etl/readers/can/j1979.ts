/**
 * Polled values and stored codes of SAE J1979 (ISO 15031-5): answers of service 01 begin with 0x41 and the PID, of
 * services 03 and 07 (stored, pending) with 0x43 and 0x47, the number of codes, and two bytes a code (SAE J2012).
 *
 * Worked example: `04 41 42 31 38`: PID 0x42, (256 · 0x31 + 0x38)/1000 = 12.600 V.
 */
import type { BusSignal } from '../../model/bus-signals.ts';
import { LIMITS, type Limit } from '../kinds/column-limits.ts';

export type Polled = { name: string; signal: BusSignal; bytes: 1 | 2; perUnit: number; offset: number; limit: Limit };

export const PIDS: ReadonlyMap<number, Polled> = new Map([
  [0x05, temperature('coolant temperature', 'coolantC', LIMITS.coolantC)],
  [0x46, temperature('ambient temperature', 'ambientC', LIMITS.tempC)],
  [0x0c, { name: 'engine speed', signal: 'engineRpm', bytes: 2, perUnit: 4, offset: 0, limit: LIMITS.rpm }],
  // As with SPN 168, what a control unit cannot live on is no reading.
  [
    0x42,
    {
      name: 'control module voltage',
      signal: 'moduleVolts',
      bytes: 2,
      perUnit: 1000,
      offset: 0,
      limit: { ...LIMITS.volts, least: 3 },
    },
  ],
]);

function temperature(name: string, signal: BusSignal, limit: Limit): Polled {
  return { name, signal, bytes: 1, perUnit: 1, offset: -40, limit };
}

/** Whether an id carries answers to a tester: 7E8–7EF, or 18DAF1xx with 29 bits (ISO 15765-4). */
export function isAnswer(id: number, extended: boolean): boolean {
  return extended ? (id & 0x1fffff00) === 0x18daf100 : id >= 0x7e8 && id <= 0x7ef;
}

/** Value of an answer of service 01; null for another service or PID. */
export function polledValue(answer: Uint8Array): { polled: Polled; value: number } | null {
  const polled = answer[0] === 0x41 ? PIDS.get(answer[1]!) : undefined;
  if (polled === undefined || answer.length < 2 + polled.bytes) return null;
  const raw = polled.bytes === 2 ? answer[2]! * 0x100 + answer[3]! : answer[2]!;
  return { polled, value: raw / polled.perUnit + polled.offset };
}

/** Codes of an answer of service 03 or 07; null for another service. */
export function storedCodes(answer: Uint8Array): string[] | null {
  if (answer[0] !== 0x43 && answer[0] !== 0x47) return null;
  const codes: string[] = [];
  for (let at = 2; at + 2 <= answer.length && codes.length < answer[1]!; at += 2) {
    if (answer[at] === 0 && answer[at + 1] === 0) continue;
    codes.push(codeOf(answer[at]!, answer[at + 1]!));
  }
  return codes;
}

/** SAE J2012: two bits name the system, two the first digit, then three hexadecimal digits: 05 62 → P0562. */
function codeOf(high: number, low: number): string {
  const digits = (high & 0xf).toString(16) + low.toString(16).padStart(2, '0');
  return `${'PCBU'[high >>> 6]}${(high >>> 4) & 3}${digits.toUpperCase()}`;
}
