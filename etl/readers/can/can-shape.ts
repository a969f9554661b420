import { basename } from 'node:path';
import type { FileShape, FileStart, Reader, ReadOptions } from '../reader.ts';
import { unitOfFile } from '../unit-of-file.ts';
import { readCanLog, type LogOwner } from './can-log.ts';
import { CandumpLine, type StampForm } from './candump-line.ts';
import { LACKING, LogFrameTimes } from './log-frame-times.ts';

/** Lines that are looked at to tell what a file is. */
const LINES_SEEN = 200;
/** No other kind of file has a line of this form: a damaged log has one among so many. Program. */
const FRAME_SHARE = 3;
/** The name that candump gives a file by itself tells no unit. */
const NAMELESS = /^(candump-\d{4}-\d\d-\d\d_\d{6}|can\d*|vcan\d*|candump)$/i;

/**
 * A log of a vehicle's data bus as candump writes it. Its unit is fixed by the import profile, or is the file's name up
 * to the first point: `T-014.log` and `T-014.2024-03-01.log.gz` are of unit T-014.
 */
export const canShape: FileShape = {
  name: 'candump',
  recognises(start) {
    const { frames, bad } = formsOf(start);
    return areFrames(frames, bad);
  },
  async readerOf(start, options = {}) {
    const times = new LogFrameTimes(options);
    const forms = [...formsOf(start).forms];
    if (!forms.some((form) => times.suits(form))) {
      const form = forms[0] ?? 'none';
      return { unrecognised: `CAN log requires ${form === 'epoch' ? 'time stamps' : LACKING[form]}` };
    }
    const owner = ownerOf(start.path, options);
    if (owner === null)
      return {
        unrecognised: `CAN log requires the unit as the first part of its name (T-014.log) or in an import profile, got ${basename(start.path)}`,
      };
    return { reader: canReader(owner, options) };
  },
};

const areFrames = (frames: number, bad: number) => frames > 0 && frames * FRAME_SHARE >= bad;

function canReader(owner: LogOwner, { profile }: ReadOptions): Reader {
  return {
    name: 'can-log',
    kind: 'can_log',
    version: 1,
    byProfile: profile !== undefined && profile !== null,
    read: async (file, sink, options = {}) =>
      readCanLog(file, sink, { owner, options: { profile: profile ?? null, ...options } }),
  };
}

function ownerOf(path: string, { profile }: ReadOptions): LogOwner | null {
  const constants = profile?.constants ?? {};
  const unit = unitOfFile(path, profile ?? null) ?? constants['unit'] ?? unitOfName(path);
  return unit === null ? null : { unit, position: constants['position'] ?? '' };
}

function unitOfName(path: string): string | null {
  const unit = basename(path).split('.')[0]!.trim();
  return unit === '' || NAMELESS.test(unit) ? null : unit;
}

/** Frames and other lines among the first ones, and the forms of their time stamps. */
function formsOf({ bytes }: FileStart): { frames: number; bad: number; forms: Set<StampForm> } {
  const seen = { frames: 0, bad: 0, forms: new Set<StampForm>() };
  const whole = bytes.lastIndexOf(10) + 1;
  const text = whole > 0 ? bytes.subarray(0, whole) : Buffer.concat([bytes, Uint8Array.of(10)]);
  const line = new CandumpLine();
  for (let at = 0, lines = 0; at < text.length && lines < LINES_SEEN; lines++) {
    // Whatever comes, it is no log: a table has no such line at all.
    if (!areFrames(seen.frames + LINES_SEEN - lines, seen.bad)) break;
    at = line.read(text, at) + 1;
    if (line.kind === 'bad') seen.bad++;
    if (line.kind !== 'frame' && line.kind !== 'remote' && line.kind !== 'error') continue;
    seen.frames++;
    seen.forms.add(line.stamp);
  }
  return seen;
}
