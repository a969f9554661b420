/**
 * What `--step 30` takes: digits alone, within bounds, so that neither `1e3` nor `0x10` nor a typing error passes for a
 * number. Throws RangeError.
 */
export function wholeNumber(text: string, { what, where, least, most }: WholeNumberOption): number {
  const value = Number(text);
  if (/^\d{1,10}$/.test(text) && value >= least && value <= most) return value;
  throw new RangeError(
    `${what} requires a whole number from ${least} to ${most}, got ${text === '' ? 'nothing' : text} (${where})`,
  );
}

export type WholeNumberOption = { what: string; where: string; least: number; most: number };
