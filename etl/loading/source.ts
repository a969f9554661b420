import type { FoundFile } from './files.ts';
import { throughSignal, type LogSink, type SignalCount, type StoreSink } from './sink.ts';
import { HeldFile } from './held-file.ts';
import { identityOf, readFile, type ReadEnd, type ReaderIdentity } from './read-file.ts';
import type { Kind } from '../model/kinds.ts';
import type { ReadOptions } from '../readers/reader.ts';
import { sniffFile } from '../readers/sniff.ts';

export type SourceEnd = ReadEnd & { bySignal: SignalCount };

/** A file that was recognised, to be read once. Where it is read (here, or in threads beside) makes no difference. */
export type OpenedSource = {
  reader: ReaderIdentity;
  /** SHA-256 of the file's bytes; null where it cannot be read to its end. */
  hash(): Promise<string | null>;
  /** Reads it: cranks, rows and set-aside rows go to the sink in the order of the file. */
  readInto(sink: StoreSink): Promise<SourceEnd>;
  /** To be called once the source is done with, whatever happened; again it does nothing. */
  close(): void;
};

export type SourceOptions = {
  /** Bytes on disk read so far. */
  onBytes: (bytes: number) => void;
  read: ReadOptions;
  /** Aborted, the file is given up. */
  signal: AbortSignal;
};

export type OpenSource = (file: FoundFile, options: SourceOptions) => Promise<OpenedSource | { unrecognised: string }>;

/** Passes what a reader gives through the search for cranks, here or in a thread beside. */
export type Search = (store: StoreSink, read: (log: LogSink) => Promise<ReadEnd>) => Promise<SourceEnd>;

/** Opens a file to be read and searched in this thread. */
export const openSource: OpenSource = async (file, options) => openHere(file, options, () => throughSignal);

/** Opens a file to be read in this thread, and searched as its kind asks for. */
export async function openHere(
  { path }: FoundFile,
  { onBytes, read, signal }: SourceOptions,
  searchOf: (kind: Kind) => Search,
): ReturnType<OpenSource> {
  const file = new HeldFile(path);
  const sniffed = await sniffFile({ path, bytes: file.bytes() }, read);
  if ('unrecognised' in sniffed) {
    file.close();
    return sniffed;
  }
  const { reader } = sniffed;
  return {
    reader: identityOf(reader),
    hash: async () => file.hash(),
    async readInto(sink) {
      const onRead = (bytes: number) => {
        signal.throwIfAborted();
        onBytes(bytes);
      };
      return searchOf(reader.kind)(sink, async (log) => readFile(reader, { file, read, onBytes: onRead }, log));
    },
    close: () => file.close(),
  };
}
