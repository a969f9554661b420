import { isArrow } from './arrow-messages.ts';
import { openBytes } from '../bytes/byte-stream.ts';
import { containerReader, withTableGuess, type Container } from '../columns/container-reader.ts';
import type { FileShape } from '../reader.ts';

/** The Arrow library is loaded with the first such file. */
const library = async () => import('./arrow-table.ts');

const arrow: Container = {
  name: 'arrow',
  version: 1,
  async open({ path, bytes }, use) {
    const { withArrow } = await library();
    return withArrow(bytes, path, use);
  },
};

/** Arrow, file or stream, batch by batch. The lines of what is set aside are rows, counted from 1. */
export const arrowShape: FileShape = {
  name: 'arrow',
  recognises: ({ bytes }) => isArrow(bytes),
  readerOf: async ({ path }, { profile } = {}) =>
    arrow.open({ path, bytes: openBytes(path) }, async (table) => {
      const found = containerReader(arrow, { path, columns: table.columns }, profile);
      return withTableGuess(found, { table, path, profile });
    }),
};
