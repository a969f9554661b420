import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { openBytes } from '../../etl/readers/bytes/byte-stream.ts';
import { sniffFile } from '../../etl/readers/sniff.ts';
import { collect, type Collected, type CollectedRow } from './collected-rows.ts';

/** Reads a file as a load would: what it is is told by its content. Throws the reason where nothing reads it. */
export async function collectFile(
  path: string,
  nowUs?: number,
  profile: ImportProfile | null = null,
): Promise<Collected & { reader: string; hash: string }> {
  const sniffed = await sniffFile({ path, bytes: openBytes(path) }, { profile });
  if ('unrecognised' in sniffed) throw new Error(sniffed.unrecognised);
  const { reader } = sniffed;
  const file = openBytes(path);
  const collected = await collect({ read: (bytes, ...rest) => reader.read({ path, bytes }, ...rest) }, file, nowUs);
  return { ...collected, reader: reader.name, hash: file.hash() };
}

/** Everything that was read, without where it stood: the same table in two shapes of file gives the same. */
export function rowsOf(all: Collected): Record<string, unknown> {
  const bare = (rows: { row: unknown }[]) => rows.map(({ row }) => row);
  const unlined = (rows: CollectedRow[]) => rows.map(({ line: _, ...row }) => row);
  return {
    counts: [all.report.kind, all.report.taken, all.report.setAside],
    samples: unlined(all.samples),
    cranks: unlined(all.cranks),
    units: bare(all.units),
    parts: bare(all.parts),
    orders: bare(all.orders),
    benchResults: bare(all.benchResults),
    codes: bare(all.codes),
    bays: bare(all.bays),
    visits: bare(all.visits),
    setAside: all.setAside.map(({ line: _, ...row }) => row),
  };
}
