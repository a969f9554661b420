/**
 * Active trouble codes of SAE J1939-73 (DM1, PGN 65226): two bytes of lamps, then four bytes a code.
 *
 * SPN and FMI by conversion method 4: SPN bits 1–8 in the first byte, 9–16 in the second, 17–19 in the top three bits
 * of the third, whose other five are the FMI; the fourth holds the method's bit and how often it occurred.
 * Worked example: A8 00 04 0A is SPN 0x00A8 = 168, FMI 4 (voltage below normal), ten times.
 */
export const ACTIVE_CODES_PGN = 65226;

export type ActiveCode = { spn: number; fmi: number; occurrences: number };

/** Codes of one message; SPN 0 with FMI 0 is "no fault", all ones are filling. */
export function activeCodes(data: Uint8Array, length: number): ActiveCode[] {
  const codes: ActiveCode[] = [];
  for (let at = 2; at + 4 <= length; at += 4) {
    const [low, middle, high, last] = [data[at]!, data[at + 1]!, data[at + 2]!, data[at + 3]!];
    const spn = low + middle * 0x100 + (high >>> 5) * 0x10000;
    const fmi = high & 0x1f;
    const isNone = (spn === 0 && fmi === 0) || (spn === 0x7ffff && fmi === 0x1f);
    if (!isNone) codes.push({ spn, fmi, occurrences: last & 0x7f });
  }
  return codes;
}
