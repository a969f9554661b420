/**
 * Money is held in integer minor units. How many make a major unit depends on the currency (ISO 4217: two digits for
 * most, none for the yen, three for the dinar); the runtime's currency table knows.
 */
export function minorDigits(currency: string): number {
  const known = DIGITS.get(currency);
  if (known !== undefined) return known;
  const digits = new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits;
  DIGITS.set(currency, digits ?? 2);
  return digits ?? 2;
}

/** Asking the runtime takes longer than everything else about a ranked row: each currency is asked for once. */
const DIGITS = new Map<string, number>();

/** `133080, 'USD'` → `1330.80`: major units with a decimal point, exact, no grouping. */
export function majorText(minor: number, currency: string): string {
  const digits = minorDigits(currency);
  const sign = minor < 0 ? '-' : '';
  const text = String(Math.abs(minor)).padStart(digits + 1, '0');
  return digits === 0 ? sign + text : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}

/** `133080, 'USD'` → `USD 1,331`: for sentences, rounded to whole major units. */
export function moneyWords(minor: number, currency: string): string {
  const major = Math.round(minor / 10 ** minorDigits(currency));
  return `${currency} ${String(major).replace(/\B(?=(\d{3})+$)/g, ',')}`;
}

/** Whether the runtime takes a text for a currency code. */
export function isCurrency(text: string): boolean {
  return /^[A-Z]{3}$/.test(text) && Intl.supportedValuesOf('currency').includes(text);
}
