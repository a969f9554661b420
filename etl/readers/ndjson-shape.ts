import { openBytes } from './byte-stream.ts';
import { objectOn } from './json-lines.ts';
import { JsonKeys, keysOf, ndjsonTable } from './ndjson-table.ts';
import type { FileShape, FileStart, Reader, TableReader } from './reader.ts';
import { tableReaderOf } from './table-of.ts';

/** Raised when the same bytes would be read differently. */
const VERSION = 1;

/** One JSON object a line. The lines of what is set aside are those of the file. */
export const ndjsonShape: FileShape = {
  name: 'ndjson',
  recognises: (start) => /^\uFEFF?\s*(\{|\[\s*\{)/.test(textOf(start).slice(0, 1_000)),
  async readerOf(start) {
    const text = textOf(start);
    if (/^\uFEFF?\s*\[/.test(text))
      return {
        unrecognised: 'file requires one JSON object a line, got a JSON list: write each object on its own line',
      };
    const keys = new JsonKeys();
    for (const line of text.split('\n')) {
      const object = objectOn(line);
      if (object !== null) keys.add(object);
    }
    if (keys.columns.length === 0) return { unrecognised: 'file requires one JSON object a line, got other text' };
    const table = tableReaderOf(keys.columns);
    return 'unrecognised' in table ? table : { reader: ndjsonReader(table) };
  },
};

/** A character that is cut in two at the end is on a line that is cut too. */
function textOf({ bytes }: FileStart): string {
  return Buffer.from(bytes).toString('utf8');
}

function ndjsonReader(table: TableReader): Reader {
  const { kind } = table;
  return {
    name: `${kind}-ndjson`,
    kind,
    version: table.version + VERSION,
    async read({ path, bytes }, sink, options) {
      const keys = await keysOf(openBytes(path));
      return table.readTable(ndjsonTable(bytes, keys), sink, options);
    },
  };
}
