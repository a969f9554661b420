import { FirstRows, type UnderstoodRow } from './dry-run-rows.ts';
import { findFiles } from './files.ts';
import { emptyReport, SetAsideTally, type FileReport } from './report.ts';
import { throughSignal } from './sink.ts';
import type { ImportProfile } from '../model/import-profile.ts';
import { UnreadableFile } from '../model/set-aside.ts';
import { openBytes } from '../readers/bytes/byte-stream.ts';
import type { ByteStream, Reader, ReadOptions } from '../readers/reader.ts';
import { parseProfile } from '../readers/profile/parse-profile.ts';
import { sniffFile } from '../readers/sniff.ts';

/** What a load would do with one file. */
export type DryRunFile = {
  file: string;
  /** By its own columns, by the profile that was given, by a guess that a person has to look at, or not at all. */
  readBy: 'columns' | 'profile' | 'guess' | 'nothing';
  /** Why it cannot be loaded as it is; null where it can. */
  refusal: string | null;
  /** The name of the reader. */
  shape: string | null;
  kind: FileReport['kind'];
  profile: ImportProfile | null;
  /** What the guess leaves open. */
  questions: string[];
  /** The first rows as understood. */
  rows: UnderstoodRow[];
  /** Whether the whole file was read, or only its beginning. */
  whole: boolean;
} & Pick<FileReport, 'taken' | 'setAside' | 'reasons' | 'examples' | 'cranks' | 'unknownColumns' | 'notes'>;

export type DryRunOptions = {
  /** The clock, µs: tells a logger's clock that runs ahead. */
  nowUs: number;
  profile?: ImportProfile | null;
  /** Of a longer text only so much is read. */
  mostBytes?: number;
};

const FIRST_ROWS = 10;
/** A second or two of reading. */
const MOST_BYTES = 256 * 2 ** 20;

/**
 * Reads files and folders as a load would and keeps nothing: what each is, how it is understood, what would be set
 * aside. A file of foreign columns is read by the guess of its profile. Throws UnreadableFile for a path that is not there.
 */
export async function dryRun(paths: readonly string[], options: DryRunOptions): Promise<DryRunFile[]> {
  const found = findFiles(paths);
  const files = found.unreadable.map(({ path, reason }) => refused(path, reason));
  for (const { path } of found.files) files.push(await dryRunFile(path, options));
  return files;
}

async function dryRunFile(path: string, options: DryRunOptions): Promise<DryRunFile> {
  const { nowUs, profile = null } = options;
  try {
    const sniffed = await sniffFile({ path, bytes: openBytes(path) }, { nowUs, profile });
    if ('reader' in sniffed) {
      const byProfile = sniffed.reader.byProfile === true && profile !== null;
      const seen = {
        ...refused(path, null),
        readBy: byProfile ? 'profile' : 'columns',
        profile: byProfile ? profile : null,
      };
      const read = await readSome(sniffed.reader, seen as DryRunFile, { ...options, profile });
      return (profile === null ? await betterByGuess(read, sniffed.reader, options) : null) ?? read;
    }
    const { unrecognised, guess } = sniffed;
    if (guess === undefined) return refused(path, unrecognised);
    const seen = { ...refused(path, unrecognised), profile: guess.profile, questions: guess.questions };
    return await readByGuess(seen, { ...options, profile: guess.profile });
  } catch (error) {
    if (error instanceof UnreadableFile) return refused(path, error.message);
    throw error;
  }
}

/** Of a file with the contract's columns most of whose rows are set aside: what a guess reads or asks, unless it reads fewer. */
async function betterByGuess(own: DryRunFile, reader: Reader, options: DryRunOptions): Promise<DryRunFile | null> {
  if (own.setAside <= own.taken) return null;
  const guess = reader.guess?.() ?? null;
  if (guess === null) return null;
  const rows = `${own.setAside} of ${own.setAside + own.taken} that cannot: ${own.reasons[0]?.reason ?? ''}`;
  const seen = refused(own.file, `file requires rows that can be used, got ${rows}`);
  const { profile, questions } = guess;
  const read = await readByGuess({ ...seen, profile, questions }, { ...options, profile });
  return read.taken > own.taken || (questions.length > 0 && read.taken === own.taken) ? read : null;
}

/** A guess that leaves too much open to be a profile shows itself and its questions, without rows. */
async function readByGuess(seen: DryRunFile, options: DryRunOptions & { profile: ImportProfile }): Promise<DryRunFile> {
  const guessed: DryRunFile = { ...seen, readBy: 'guess' };
  const { profile, nowUs } = options;
  const { shown, notes } = answeredForShowing(profile, seen.questions);
  try {
    parseProfile(JSON.stringify(shown), 'guess');
  } catch (error) {
    if (error instanceof RangeError) return { ...guessed, notes: [error.message] };
    throw error;
  }
  const sniffed = await sniffFile({ path: seen.file, bytes: openBytes(seen.file) }, { nowUs, profile: shown });
  if ('unrecognised' in sniffed) return { ...guessed, notes: [sniffed.unrecognised] };
  const read = await readSome(sniffed.reader, guessed, { ...options, profile: shown });
  return { ...read, notes: [...notes, ...read.notes] };
}

const SHOWN_START = '2000-01-01T00:00:00Z';

/** To show rows whose zone, start or unit is still open; the guess itself stays without. */
function answeredForShowing(profile: ImportProfile, questions: readonly string[]) {
  const open = (what: string) => questions.some((question) => question.startsWith(what));
  const notes: string[] = [];
  let shown = profile;
  if (open('time.zone')) {
    shown = { ...shown, time: { format: 'iso', ...profile.time, zone: 'UTC' } };
    notes.push('shown as if its clock were UTC');
  }
  const { time } = profile;
  if (open('time.start') && time?.start === undefined && time?.startFrom === undefined) {
    shown = { ...shown, time: { format: 'seconds_from_start', ...time, start: SHOWN_START } };
    notes.push(`shown as if it had begun at ${SHOWN_START}`);
  }
  if (open('unit:')) {
    shown = { ...shown, unit: '?' };
    notes.push('shown with ? as its unit');
  }
  return { shown, notes };
}

async function readSome(reader: Reader, seen: DryRunFile, options: DryRunOptions): Promise<DryRunFile> {
  const first = new FirstRows(FIRST_ROWS);
  const tally = new SetAsideTally();
  const bytes = new Beginning(openBytes(seen.file), options.mostBytes ?? MOST_BYTES);
  const store = first.store(async (rows) => tally.add(rows));
  const { bySignal, ...read } = await throughSignal(store, async (log) => {
    const sink = { ...first.watching(log), progress: () => undefined };
    return reader.read({ path: seen.file, bytes: bytes.stream() }, sink, readOptions(options));
  });
  return {
    ...seen,
    shape: reader.name,
    kind: reader.kind,
    rows: first.rows,
    whole: !bytes.cut,
    taken: read.taken - bySignal.setAside,
    setAside: read.setAside + bySignal.setAside,
    reasons: tally.reasons(),
    examples: tally.examples,
    cranks: bySignal.cranks,
    unknownColumns: read.unknownColumns,
    notes: [...bySignal.notes, ...read.notes],
  };
}

function readOptions({ nowUs, profile = null }: DryRunOptions): ReadOptions {
  return { nowUs, profile };
}

/** The beginning of a text, up to the end of a line. */
class Beginning {
  cut = false;
  readonly #bytes: ByteStream;
  readonly #most: number;

  constructor(bytes: ByteStream, most: number) {
    this.#bytes = bytes;
    this.#most = most;
  }

  async *stream(): ByteStream {
    let read = 0;
    for await (const chunk of this.#bytes) {
      read += chunk.length;
      if (read <= this.#most) {
        yield chunk;
        continue;
      }
      this.cut = true;
      const newline = chunk.lastIndexOf(10, this.#most - read + chunk.length);
      // In UTF-16 little-endian the newline's second byte follows.
      yield chunk.subarray(0, chunk[newline + 1] === 0 && newline >= 0 ? newline + 2 : newline + 1);
      return;
    }
  }
}

function refused(file: string, refusal: string | null): DryRunFile {
  const { result: _, importId: __, ...counts } = emptyReport(file, 'unreadable');
  const seen = { shape: null, profile: null, questions: [], rows: [], whole: true };
  return { ...counts, ...seen, readBy: 'nothing', refusal };
}
