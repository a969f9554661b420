import { CsvError, parse } from 'csv-parse/sync';

/** Column names of a header row: unquoted, trimmed, lower-cased, without byte-order mark. */
export function headerFields(row: Uint8Array): string[] {
  const text = Buffer.from(row)
    .toString('utf8')
    .replace(/^\uFEFF/, '')
    .replace(/\r$/, '');
  return cellsOf(text).map((name) => name.trim().toLowerCase());
}

/** A quote that is never closed is part of a name. Without quotes the parser, slow to start, is not needed. */
function cellsOf(text: string): string[] {
  if (text !== '' && !/["\r\n]/.test(text)) return text.split(',');
  try {
    return parse(text, { relax_quotes: true, relax_column_count: true, to_line: 1 })[0] ?? [];
  } catch (error) {
    if (error instanceof CsvError) return text.split(',');
    throw error;
  }
}
