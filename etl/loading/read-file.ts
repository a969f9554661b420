import { hashOf, type HeldFile } from './held-file.ts';
import type { LogSink } from './sink.ts';
import { UnreadableFile } from '../model/set-aside.ts';
import type { Reader, ReadOptions, ReadReport } from '../readers/reader.ts';

/** A reader without what it does: what is written down of it, and what crosses from one thread to another. */
export type ReaderIdentity = Omit<Reader, 'read'>;

export type ReadEnd = { read: ReadReport; sha256: string };

export type FileReading = {
  file: HeldFile;
  /** Told the bytes on disk read so far. */
  onBytes: (bytes: number) => void;
  read: ReadOptions;
};

export function identityOf({ name, kind, version, byProfile }: Reader): ReaderIdentity {
  return { name, kind, version, ...(byProfile === undefined ? {} : { byProfile }) };
}

/** Reads a file into a sink, and its hash beside; a reader that opens the path itself has left the bytes alone. */
export async function readFile(reader: Reader, { file, onBytes, read }: FileReading, sink: LogSink): Promise<ReadEnd> {
  const { path } = file;
  const bytes = file.bytes(onBytes);
  const report = await reader.read({ path, bytes }, { ...sink, progress: () => undefined }, read);
  const sha256 = hashOf(bytes) ?? (await file.hash());
  if (sha256 === null)
    throw new UnreadableFile(`file requires bytes that can be read to their end, got a break (${path})`);
  return { read: report, sha256 };
}
