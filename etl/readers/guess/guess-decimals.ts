type Rows = readonly (readonly string[])[];

/** `1.234,50` shows both marks; null where no number does, or numbers differ. */
export function guessGroupMark(rows: Rows): '.' | ',' | null {
  const cells = rows.flat().map((cell) => cell.replace(/^[$€£]\s?|\s?[$€£]$/g, ''));
  const points = cells.some((cell) => /^[+-]?\d{1,3}(?:\.\d{3})+,\d+$/.test(cell));
  const commas = cells.some((cell) => /^[+-]?\d{1,3}(?:,\d{3})+\.\d+$/.test(cell));
  return points === commas ? null : points ? '.' : ',';
}

export function guessDecimalMark(rows: Rows): [mark: '.' | ',', question: string | null] {
  const cells = rows.flat();
  const points = cells.filter((cell) => /^[+-]?\d*\.\d+$/.test(cell));
  const commas = cells.filter((cell) => /^[+-]?\d*,\d+$/.test(cell));
  if (commas.length === 0) return ['.', null];
  if (points.length > 0)
    return [
      points.length >= commas.length ? '.' : ',',
      `decimalMark: is it a point (${points[0]}) or a comma (${commas[0]})?`,
    ];
  const grouped = commas.every((cell) => /^[+-]?[1-9]\d{0,2},\d{3}$/.test(cell));
  if (!grouped) return [',', null];
  return [',', `decimalMark: is ${commas[0]} a decimal comma or thousands?`];
}

/** Kilometres, money and millivolts with three decimals each are more likely thousands; null where some are not so. */
export function thousandsQuestion(name: string, texts: readonly string[], decimalMark: '.' | ','): string | null {
  const filled = texts.filter((text) => text !== '');
  const grouped = new RegExp(`^[1-9]\\d{0,2}\\${decimalMark}\\d{3}$`);
  if (filled.length === 0 || !filled.every((text) => grouped.test(text))) return null;
  const other = decimalMark === '.' ? ',' : '.';
  return `decimalMark: does ${filled[0]} of ${name} have decimals, or is it thousands? (then decimalMark "${other}", groupMark "${decimalMark}")`;
}
