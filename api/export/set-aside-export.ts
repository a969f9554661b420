import { columns, compareKeys, type ExportTable } from './export-table.ts';

/** Rows that could not be used, and files that could not be read at all, which have no line. At most 10,000 a file are kept; the import's count tells of the others. */
export const SET_ASIDE_EXPORT: ExportTable = {
  name: 'set-aside',
  about: 'rows that could not be used, with the reason',
  columns: [...columns('text', 'file'), ...columns('integer', 'line'), ...columns('text', 'field', 'value', 'reason')],
  assessed: false,
  async *rows({ store }) {
    const rows = [];
    for await (const row of store.setAside()) rows.push(row);
    rows.sort((a, b) => compareKeys([a.file, a.line, a.field], [b.file, b.line, b.field]));
    for (const { file, line, field, value, reason } of rows)
      yield [file, line === 0 ? null : line, field, value, reason];
  },
};
