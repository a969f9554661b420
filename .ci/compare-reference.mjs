// Lets R recompute the stored reference values (.ci/reference.R) and compares the two, value by value.
// Ends with `N passed, N failed, N skipped`; exit code 1 where any differs, is missing, or R has none to compare with.
//
//   node .ci/compare-reference.mjs
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const folder = join(root, 'tests/reference/data');
const stored = JSON.parse(readFileSync(join(folder, 'statistics.json'), 'utf8'));

/** { shape: 1.7, cdf: [0.1, 0.2] } → [['shape', 1.7], ['cdf.0', 0.1], ['cdf.1', 0.2]] */
const flat = (values) =>
  Object.entries(values).flatMap(([name, value]) =>
    Array.isArray(value) ? value.map((item, i) => [`${name}.${i}`, item]) : [[name, value]],
  );

/** A set of one list is printed by R under the set's name alone: `logGamma.0`. */
const expected = Object.entries(stored).flatMap(([set, { computed, tolerance }]) =>
  flat(computed).map(([name, value]) => ({ name: `${set}.${name}`.replace('.value.', '.'), value, tolerance })),
);

const output = execFileSync('Rscript', [join(root, '.ci/reference.R'), folder], { encoding: 'utf8' });
const recomputed = new Map(
  output
    .trim()
    .split('\n')
    .map((line) => line.split(','))
    .map(([name, value]) => [name, Number(value)]),
);

const tell = (line) => process.stdout.write(`${line}\n`);
let [passed, failed] = [0, 0];
for (const { name, value, tolerance } of expected) {
  const anew = recomputed.get(name);
  recomputed.delete(name);
  const off = Math.abs(anew - value) / Math.max(1e-300, Math.abs(value));
  // A stored 0 has no relative error: it must come out as 0.
  if (anew === value || off <= tolerance) passed++;
  else {
    failed++;
    tell(`${name}: stored ${value}, by R ${anew}, relative tolerance ${tolerance}`);
  }
}
for (const name of recomputed.keys()) {
  failed++;
  tell(`${name}: computed by R, but not stored`);
}
tell(`${passed} passed, ${failed} failed, 0 skipped`);
process.exitCode = failed === 0 ? 0 : 1;
