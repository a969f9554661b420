import type { Reader } from '../reader.ts';

/** A file of the contract's columns among those that a profile is for. */
export function notedReader(reader: Reader): Reader {
  const note = 'the profile does not fit this file: read by its own columns';
  return {
    ...reader,
    async read(file, sink, options) {
      const report = await reader.read(file, sink, options);
      return { ...report, notes: [note, ...report.notes] };
    },
  };
}
