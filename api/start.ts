import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { loadPaths } from '../etl/load.ts';
import { asOf, dateOf, dayNumber } from '../etl/model/time.ts';
import { openStore } from '../etl/store/open-store.ts';
import { assessAndRank, newestDay } from './assess-and-rank.ts';
import { processConsole } from './commands/command-console.ts';
import type { CommandContext } from './commands/command.ts';
import { portNumber, serveStore, type Listening } from './commands/serve.ts';
import { programVersion, projectFolder, sampleStorePath, storePath } from './config.ts';
import { failureWords } from './failure-words.ts';

/** `npm start`: the user's store if anything was loaded into it, else the invented fleet in a store of its own. */
const context: CommandContext = {
  console: processConsole(Date.now, 'lines'),
  env: process.env,
  now: Date.now,
  doneInPart: () => undefined,
  interrupted: () => undefined,
};

/** Days between the two assessments of the sample, so that its page shows what changed. */
const SAMPLE_STEP_DAYS = 28;

async function hasImports(path: string): Promise<boolean> {
  if (!existsSync(path)) return false;
  const store = await openStore(path);
  try {
    return (await store.imports()).length > 0;
  } finally {
    store.close();
  }
}

/** Changes when the sample's files or the program, built into one folder, do. */
function sampleMark(folder: string): string {
  const hash = createHash('sha256').update(programVersion());
  for (const from of [folder, import.meta.dirname])
    for (const name of readdirSync(from, { recursive: true, encoding: 'utf8' }).toSorted())
      if (/\.(js|csv|gz)$/.test(name)) hash.update(name).update(readFileSync(join(from, name)));
  return hash.digest('hex');
}

/** The sample's store, made anew where it is missing or its files changed. */
async function sampleStore(): Promise<string> {
  const path = sampleStorePath(process.env);
  const folder = join(projectFolder(), 'sample-data/fleet');
  const [markFile, mark] = [`${path}.made-from`, sampleMark(folder)];
  if (existsSync(path) && existsSync(markFile) && readFileSync(markFile, 'utf8') === mark) return path;
  mkdirSync(dirname(path), { recursive: true });
  for (const suffix of ['.made-from', '', '-wal', '-shm']) rmSync(path + suffix, { force: true });
  await loadSample(path, folder);
  // Written last: what was killed halfway is made anew.
  writeFileSync(markFile, mark);
  return path;
}

async function loadSample(path: string, folder: string): Promise<void> {
  const { console, now } = context;
  const nowUs = now() * 1000;
  console.note('setting up the sample fleet, once');
  const store = await openStore(path);
  const [reading, finishing] = [console.progress('reading the sample'), console.progress('its cranks')];
  try {
    await loadPaths(store, [folder], {
      nowUs,
      onProgress: ({ bytes, totalBytes }) => reading.at(bytes, totalBytes),
      onFinish: (done, total) => finishing.at(done, total),
    });
    reading.end();
    finishing.end();
    const newest = await newestDay(store, nowUs);
    for (const day of [asOf(dateOf(dayNumber(newest.on) - SAMPLE_STEP_DAYS)), newest]) {
      console.note(`assessing the sample as of ${day.label}`);
      await assessAndRank(store, day, { nowUs });
    }
  } finally {
    store.close();
  }
}

/** Its track record takes a minute, during which the dashboard serves already. */
async function serveSample(path: string, listening: Listening): Promise<void> {
  const store = await openStore(path);
  const isWalked = (await store.backtest()) !== null;
  store.close();
  await serveStore(path, context, isWalked ? listening : { ...listening, begin: 'backtest' });
}

/** `npm start -- --port 8080`: where it listens, as `serve` takes it. What else is asked would be done without a word. */
function listening(): Listening {
  const options = { port: { type: 'string' }, host: { type: 'string' } } as const;
  const { values, positionals } = parseArgs({ options, strict: false, allowPositionals: true });
  const { port, host, ...others } = values;
  const strange = [...Object.keys(others).map((name) => `--${name}`), ...positionals][0];
  if (strange !== undefined)
    throw new RangeError(`npm start requires --port or --host alone, got ${strange} (npm start)`);
  return {
    ...(port === undefined ? {} : { port: portNumber(String(port)) }),
    ...(host === undefined ? {} : { host: String(host) }),
  };
}

try {
  const where = listening();
  const own = storePath(undefined, process.env);
  if (await hasImports(own)) await serveStore(own, context, where);
  else await serveSample(await sampleStore(), where);
} catch (error) {
  context.console.note(failureWords(error));
  process.exitCode = 2;
}
