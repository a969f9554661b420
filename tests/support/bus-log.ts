import type { ReadOptions, ReadReport } from '../../etl/readers/reader.ts';
import { sniffFile } from '../../etl/readers/sniff.ts';
import { collectInto, cutAt, type Collected } from './collected-rows.ts';

/** 2026-03-01 06:00 UTC, in seconds: where the invented logs begin. */
export const BEGIN_S = 1_772_344_800;

/** One line of `candump -L`. */
export function logLine(seconds: number, frame: string): string {
  return `(${(BEGIN_S + seconds).toFixed(6)}) can0 ${frame}\n`;
}

/** Reads text as a file of this name through the door that every file comes through. */
export async function readBusLog(text: string, options: ReadOptions = {}, path = 'T-014.log'): Promise<Collected> {
  const bytes = Buffer.from(text, 'latin1');
  const sniffed = await sniffFile({ path, bytes: cutAt(bytes, []) }, options);
  if ('unrecognised' in sniffed) throw new Error(sniffed.unrecognised);
  if (sniffed.reader.name !== 'can-log') throw new Error(`read as ${sniffed.reader.name}`);
  return collectInto((sink) => sniffed.reader.read({ path, bytes: cutAt(bytes, []) }, sink, options));
}

/** Why a text is not read; '' where it is. */
export async function whyNotRead(text: string, options: ReadOptions = {}, path = 'T-014.log'): Promise<string> {
  const sniffed = await sniffFile({ path, bytes: cutAt(Buffer.from(text, 'latin1'), []) }, options);
  return 'unrecognised' in sniffed ? sniffed.unrecognised : '';
}

/** Lines used and set aside. */
export function counts({ taken, setAside }: ReadReport): [taken: number, setAside: number] {
  return [taken, setAside];
}
