/**
 * `npm run fuzz`: one hundred thousand damaged files through the readers, in processes that a parent watches. Seeded:
 * `--seed N` (default 1), `--inputs N`, `--only INDEX` for one input again. Ends with one line of counts; exit 1 on a
 * finding, whose input is kept in the folder for temporary files.
 */
import { fork, type ChildProcess } from 'node:child_process';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { MOST_RSS_MIB, WALL_SECONDS, type Finding, type ToParent } from './findings.ts';

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    inputs: { type: 'string', default: '100000' },
    only: { type: 'string' },
  },
});
const seed = Number(values.seed);
const only = values.only === undefined ? null : Number(values.only);
const [first, last] = only === null ? [0, Number(values.inputs)] : [only, only + 1];
const children = only === null ? Math.min(4, availableParallelism()) : 1;
const MOST_FINDINGS = 20;
const PAGE_BYTES = 4096;
const WATCH_MS = 200;

const folder = mkdtempSync(join(tmpdir(), 'fuzz-'));
const counts = { inputs: 0, read: 0, refused: 0, rows: 0, setAside: 0, findings: 0, mostRssMib: 0 };
const began = Date.now();

function report({ index, sample, what, path }: Finding): void {
  counts.findings++;
  const kept = join(tmpdir(), `fuzz-seed-${seed}-input-${index}-${basename(path)}`);
  if (existsSync(path)) copyFileSync(path, kept);
  process.stderr.write(`\nseed ${seed} input ${index} (${sample}): ${what}\n  kept as ${kept}\n`);
}

function hear(message: ToParent): void {
  if (message.is === 'finding') {
    counts.inputs++;
    report(message);
  } else if (message.is === 'unsound') {
    counts.findings++;
    process.stderr.write(`\nundamaged ${message.sample}: ${JSON.stringify(message.outcome)}\n`);
  } else {
    counts.inputs++;
    counts[message.how]++;
    counts.rows += message.rows;
    counts.setAside += message.setAside;
  }
}

/** What a child wrote of where it is; null before it has begun. */
function whereIs(own: string): { index: number; sinceMs: number; path: string } | null {
  const at = join(own, 'at');
  const [index, sinceMs, path] = existsSync(at) ? readFileSync(at, 'utf8').trim().split(' ') : [];
  return path === undefined && index !== '-2'
    ? null
    : { index: Number(index), sinceMs: Number(sinceMs), path: path ?? '' };
}

function rssMib(pid: number | undefined): number {
  try {
    return (Number(readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1]) * PAGE_BYTES) / 2 ** 20;
  } catch {
    return 0; // ended, or a system without /proc
  }
}

/** Why a child must not go on; null where it may. */
function faultOf(own: string, child: ChildProcess): string | null {
  const rss = rssMib(child.pid);
  counts.mostRssMib = Math.max(counts.mostRssMib, Math.round(rss));
  if (rss > MOST_RSS_MIB) return `${Math.round(rss)} MiB of memory, more than ${MOST_RSS_MIB}`;
  const place = whereIs(own);
  if (place === null || place.index === -2) return null;
  const seconds = (Date.now() - place.sinceMs) / 1000;
  return seconds > WALL_SECONDS ? `no end after ${seconds.toFixed(0)} s` : null;
}

/** Runs one child over its share; one that is killed or dies is a finding, and another takes up behind it. */
async function share(number: number, from: number): Promise<void> {
  const own = join(folder, `child-${number}`);
  rmSync(own, { recursive: true, force: true });
  const args = [own, seed, from, last, children].map(String);
  const child = fork(new URL('./child.js', import.meta.url), args, { stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  let said = '';
  child.stderr!.on('data', (text: Buffer) => (said = (said + text.toString()).slice(-2000)));
  child.on('message', hear);
  let fault: string | null = null;
  const watch = setInterval(() => {
    fault ??= faultOf(own, child);
    if (fault !== null) child.kill('SIGKILL');
  }, WATCH_MS);
  const [code, signal] = await new Promise<[number | null, string | null]>((done) =>
    child.on('close', (...end) => done(end)),
  );
  clearInterval(watch);
  if (code === 0 && fault === null) return;
  const place = whereIs(own);
  const what = fault ?? `process ended with ${code ?? signal}: ${said}`;
  counts.inputs++;
  report({ index: place?.index ?? -1, sample: basename(place?.path ?? ''), what, path: place?.path ?? '' });
  if (place !== null && place.index >= 0 && counts.findings < MOST_FINDINGS)
    await share(number, place.index + children);
}

const shown = process.stderr.isTTY
  ? setInterval(() => process.stderr.write(`\r${counts.inputs} of ${last}`), 500)
  : null;
await Promise.all(Array.from({ length: children }, async (_, number) => share(number, first + number)));
if (shown !== null) clearInterval(shown);
rmSync(folder, { recursive: true, force: true });
const seconds = ((Date.now() - began) / 1000).toFixed(0);
process.stdout.write(
  `seed ${seed}: ${counts.inputs} inputs, ${counts.read} read, ${counts.refused} refused, ${counts.rows} rows taken, ` +
    `${counts.setAside} set aside, at most ${counts.mostRssMib} MiB, ${seconds} s, ${counts.findings} findings\n`,
);
process.exitCode = counts.findings > 0 ? 1 : 0;
