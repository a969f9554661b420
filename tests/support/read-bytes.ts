import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect } from 'vitest';
import { collectFile } from './collected-file.ts';

export type ReadBytes = (bytes: Uint8Array) => ReturnType<typeof collectFile>;

/** A folder for the tests of a file, and what reads bytes as a file of that name in it. */
export function bytesReader(name: string): { path: (file: string) => string; read: ReadBytes } {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'bytes-'));
  });
  afterAll(async () => rm(folder, { recursive: true, force: true }));
  const path = (file: string) => join(folder, file);
  return {
    path,
    async read(bytes) {
      await writeFile(path(name), bytes);
      return collectFile(path(name));
    },
  };
}

/** Some bytes changed, one at a time: every row is used or counted, or the file is refused in words. */
export async function expectUsedOrRefused(whole: Uint8Array, rows: number, read: ReadBytes): Promise<void> {
  for (let at = 8; at < whole.length; at += 23) {
    const changed = Uint8Array.from(whole);
    changed[at]! ^= 0x41;
    const outcome = await read(changed).then(
      ({ report }) => report.taken + report.setAside,
      (error: unknown) => (error as Error).message,
    );
    if (typeof outcome === 'string') expect(outcome).toMatch(/ requires? /);
    else expect(outcome).toBeLessThanOrEqual(rows);
  }
}

/** Each byte cut away with all that follow, or changed: an error in words, or other bytes, never more than the room. */
export function expectBounded(
  whole: Uint8Array,
  room: number,
  unpack: (bytes: Uint8Array, room: number) => Uint8Array,
) {
  for (let at = 0; at < whole.length; at++)
    for (const flip of [0x41, 0x80]) {
      const changed = Uint8Array.from(whole);
      changed[at]! ^= flip;
      for (const bytes of [whole.subarray(0, at), changed]) {
        try {
          expect(unpack(bytes, room).length).toBeLessThanOrEqual(room);
        } catch (error) {
          expect(error).toBeInstanceOf(RangeError);
        }
      }
    }
}
