/**
 * A number as text that reads back as the same double: the shortest such digits, in plain decimals, never with an
 * exponent (which spreadsheets and old parsers mangle). A non-finite number is unknown: ''.
 *
 * @example plainNumber(1.5e-7) // '0.00000015'
 */
export function plainNumber(value: number): string {
  if (!Number.isFinite(value)) return '';
  const text = String(Object.is(value, -0) ? 0 : value);
  const [, sign = '', whole = '', decimals = '', exponent] = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(text) ?? [];
  if (exponent === undefined) return text;
  const digits = whole + decimals;
  const point = whole.length + Number(exponent);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return sign + digits.padEnd(point, '0');
}
