/** A store made by the built command line and served by it, as a user would: load, assess, serve. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { ROOT } from '../support/source-files.ts';

const CLI = join(ROOT, '.build/program/cli.js');

export type ServedFleet = { origin: string; close: () => Promise<void> };

/**
 * Serves a new store with these folders loaded and, unless told otherwise, assessed; with none, an empty store.
 * `inPart`: some of it cannot be used.
 */
export async function serveFleet(
  folders: readonly string[],
  { assessed = true, inPart = false } = {},
): Promise<ServedFleet> {
  const place = await mkdtemp(join(tmpdir(), 'served-fleet-'));
  const store = ['--store', join(place, 'fleet.sqlite')];
  if (folders.length > 0) {
    await run(['load', ...store, ...folders], inPart ? 1 : 0);
    if (assessed) await run(['assess', ...store]);
  }
  const server = start(['serve', ...store, '--port', '0']);
  const origin = await firstLine(server);
  return {
    origin,
    close: async () => {
      server.kill('SIGTERM');
      await ended(server);
      await rm(place, { recursive: true, force: true });
    },
  };
}

function start(words: readonly string[]): ChildProcess {
  return spawn(process.execPath, [CLI, ...words], { stdio: ['ignore', 'pipe', 'pipe'] });
}

async function run(words: readonly string[], expected = 0): Promise<void> {
  const child = start(words);
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (part: Buffer) => (said += part.toString()));
  const code = await ended(child);
  if (code !== expected) throw new Error(`${words[0]} requires to end with ${expected}, got ${code} (${said})`);
}

async function ended(child: ChildProcess): Promise<number | null> {
  if (child.exitCode === null && child.signalCode === null) await once(child, 'exit');
  return child.exitCode;
}

/** `serve` says its address once it listens. */
async function firstLine(child: ChildProcess): Promise<string> {
  child.stderr?.resume();
  for await (const line of createInterface({ input: child.stdout! })) return line.trim();
  throw new Error(`serve requires to print its address, got none (exit code ${child.exitCode})`);
}
