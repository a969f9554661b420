import { openBytes } from '../bytes/byte-stream.ts';
import { containerReader, withTableGuess, type Container } from '../columns/container-reader.ts';
import { objectOn } from './json-lines.ts';
import { JsonKeys, keysOf, ndjsonTable } from './ndjson-table.ts';
import type { ByteStream, FileShape, Sniffed } from '../reader.ts';

const ndjson: Container = {
  name: 'ndjson',
  version: 1,
  open: async ({ path, bytes }, use) => use(ndjsonTable(bytes, await keysOf(openBytes(path)))),
};

/** Blanks before the first object; most files are none, and are told so by few bytes. */
const LOOKED_AT_BYTES = 1_000;

/** One JSON object a line. The lines of what is set aside are those of the file. */
export const ndjsonShape: FileShape = {
  name: 'ndjson',
  recognises: ({ bytes }) => /^\uFEFF?\s*(\{|\[\s*\{)/.test(textOf(bytes.subarray(0, LOOKED_AT_BYTES))),
  async readerOf(start, { profile } = {}) {
    const text = textOf(start.bytes);
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
    const { path } = start;
    const found = namingNested(containerReader(ndjson, { path, columns: keys.columns }, profile), keys.others);
    return withTableGuess(found, { table: ndjsonTable(wholeLines(start.bytes), keys), path, profile });
  },
};

/** Samples as a list a capture look like a missing column otherwise. */
function namingNested(found: Sniffed, nested: readonly string[]): Sniffed {
  if (!('unrecognised' in found) || nested.length === 0) return found;
  const told = `lists and structures are not read (${nested.join(', ')}): write one sample a line, one value a key`;
  return { ...found, unrecognised: `${found.unrecognised}; ${told}` };
}

/** The beginning without the line that is cut at its end. */
async function* wholeLines(bytes: Uint8Array): ByteStream {
  yield bytes.subarray(0, bytes.lastIndexOf(10) + 1 || bytes.length);
}

/** A character that is cut in two at the end is on a line that is cut too. */
function textOf(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('utf8');
}
