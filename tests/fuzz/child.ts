/** Reads its share of the damaged files, one after the other, and tells its parent what it finds. */
import { mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding, ToParent } from './findings.ts';
import { AT_BYTES, CPU_SECONDS } from './findings.ts';
import { damagedInput } from './mutate.ts';
import { readInput } from './read-input.ts';
import { asFile, validSamples } from './valid-samples.ts';

const [folder, seed, from, to, step] = [process.argv[2]!, ...process.argv.slice(3).map(Number)] as [
  string,
  number,
  number,
  number,
  number,
];
const send = (message: ToParent) => void process.send!(message);

mkdirSync(folder, { recursive: true });
const samples = await validSamples(folder);
const at = openSync(join(folder, 'at'), 'w');

/** The number of the input at hand and when it began stand on disk, where they outlive this process. */
function begins(index: number, path: string): void {
  writeSync(at, `${index} ${Date.now()} ${path}`.padEnd(AT_BYTES), 0);
}

for (const sample of samples) {
  const path = join(folder, sample.fileName);
  const bytes = asFile(sample);
  begins(-1, path);
  writeFileSync(path, bytes);
  const outcome = await readInput(path, { sample, bytes, text: sample.bytes, headerKept: true });
  if (outcome.how === 'refused' || outcome.setAside > 0) send({ is: 'unsound', sample: sample.name, outcome });
}

for (let index = from; index < to; index += step) {
  const input = damagedInput(samples, seed, index);
  const path = join(folder, input.sample.fileName);
  writeFileSync(path, input.bytes);
  begins(index, path);
  const before = process.cpuUsage();
  const finding = (what: string): Finding => ({ index, sample: input.sample.name, what, path });
  try {
    const outcome = await readInput(path, input);
    const { user, system } = process.cpuUsage(before);
    const seconds = (user + system) / 1e6;
    send({ is: 'outcome', ...outcome });
    if (seconds > CPU_SECONDS) send({ is: 'finding', ...finding(`${seconds.toFixed(1)} s of processor time`) });
  } catch (error) {
    send({ is: 'finding', ...finding(error instanceof Error ? (error.stack ?? error.message) : String(error)) });
  }
}
begins(-2, '');
process.disconnect();
