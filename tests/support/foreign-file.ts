import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { sniffFile } from '../../etl/readers/sniff.ts';
import { collect, cutAt, type Collected } from './collected-rows.ts';

/** What a file gives by a profile, from its bytes to its rows, as a load would read it. Throws where it cannot be. */
export async function collectFile(
  path: string,
  content: string | Uint8Array,
  profile: ImportProfile | null,
  cut = 31,
): Promise<Collected> {
  const bytes = Buffer.from(content);
  const sniffed = await sniffFile({ path, bytes: cutAt(bytes, []) }, { profile });
  if ('unrecognised' in sniffed) throw new RangeError(sniffed.unrecognised);
  const { reader } = sniffed;
  // Cut in odd places: where a row ends must not depend on how the file comes.
  const stream = cutAt(bytes, [7, cut % (bytes.length + 1), Math.floor(bytes.length / 2), bytes.length - 3]);
  return collect({ read: async (each, sink, options) => reader.read({ path, bytes: each }, sink, options) }, stream);
}
