import { parse } from 'csv-parse/sync';

/** Column names of a header row: unquoted, trimmed, lower-cased, without byte-order mark. */
export function headerFields(row: Uint8Array): string[] {
  const text = Buffer.from(row)
    .toString('utf8')
    .replace(/^\uFEFF/, '')
    .replace(/\r$/, '');
  const rows = parse(text, { relax_quotes: true, relax_column_count: true, to_line: 1 });
  return (rows[0] ?? []).map((name) => name.trim().toLowerCase());
}
