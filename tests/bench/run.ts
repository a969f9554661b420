import { readdirSync } from 'node:fs';
import { cpus } from 'node:os';

/**
 * `npm run bench` runs every benchmark in this folder, `npm run bench -- assess` the named ones. A benchmark is one
 * file that exports `bench()`; its figures are printed as one JSON line, so that two runs can be compared.
 */
type Bench = () => Promise<{ name: string; figures: Record<string, number | string> }>;

const folder = new URL('./', import.meta.url);
const wanted = process.argv.slice(2);
const files = readdirSync(folder).filter((file) => file.endsWith('.js') && file !== 'run.js');
const chosen = files.filter((file) => wanted.length === 0 || wanted.includes(file.replace(/\.js$/, '')));

process.stderr.write(`${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}\n`);
if (chosen.length === 0) {
  process.stderr.write(`bench requires a known name, got ${wanted.join(' ')}; known: ${files.join(' ')}\n`);
  process.exitCode = 2;
}
for (const file of chosen) {
  process.stderr.write(`${file.replace(/\.js$/, '')} …\n`);
  const { bench } = (await import(new URL(file, folder).href)) as { bench: Bench };
  process.stdout.write(`${JSON.stringify(await bench())}\n`);
}
