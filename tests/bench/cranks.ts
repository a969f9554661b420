import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { compare, type Comparison } from '../simulated-bench/compare.ts';
import { accuracy, confusionOf, macroF1, matrixText } from '../simulated-bench/confusion.ts';
import { patternPairs, suspectPairs } from '../simulated-bench/judgement.ts';
import { RATES } from '../simulated-bench/logger.ts';
import { BANDS, finding, onset, seconds, speed, volts, type Figures } from '../simulated-bench/scores.ts';
import { simulateLogs } from '../simulated-bench/simulate.ts';

const COURSES = 800;
const RATES_EACH = 3;
const FIRST_SEED = 1;
const ARTEFACTS = join(process.cwd(), 'tests/bench/artefacts');

/**
 * Cranks from a simulated bench with known truth through the program's own path: found, timed, measured, named, blamed.
 * Keeps the figures in tests/bench/artefacts/cranks.json. Seeded: the same program gives the same file.
 */
export async function bench(): Promise<{ name: string; figures: Figures }> {
  const all = run();
  const bands = Object.fromEntries(BANDS.map(({ name, from, to }) => [name, figuresOf(inBand(all, from, to))]));
  const figures = figuresOf(all);
  const fast = inBand(all, 100, Infinity);
  const matrices = {
    pattern: confusionOf(patternPairs(all.checked)),
    patternFrom100Hz: confusionOf(patternPairs(fast.checked)),
    suspectWithAmps: confusionOf(suspectPairs(fast.checked, true)),
    suspectWithoutAmps: confusionOf(suspectPairs(fast.checked, false)),
  };
  await mkdir(ARTEFACTS, { recursive: true });
  const artefact = { courses: COURSES, ratesEach: RATES_EACH, figures, bands, matrices };
  await writeFile(join(ARTEFACTS, 'cranks.json'), `${JSON.stringify(artefact, null, 2)}\n`);
  for (const [name, table] of Object.entries(matrices)) process.stderr.write(`\n${name}\n${matrixText(table)}\n`);
  for (const [name, each] of Object.entries(bands)) process.stderr.write(`\n${name}\n${JSON.stringify(each)}\n`);
  return { name: 'cranks', figures };
}

function run(): Comparison {
  const all: Comparison = { checked: [], unfounded: [] };
  for (let k = 0; k < COURSES; k++) {
    // 3 and 11 have no common divisor: each rate comes as often as the others.
    const rates = Array.from({ length: RATES_EACH }, (_, j) => RATES[(k * RATES_EACH + j * 4) % RATES.length]!);
    for (const log of simulateLogs(FIRST_SEED + k, rates)) {
      const { checked, unfounded } = compare(log);
      all.checked.push(...checked.map((each) => ({ ...each, log: light(each.log) })));
      all.unfounded.push(...unfounded.map((each) => ({ ...each, log: light(each.log) })));
    }
  }
  return all;
}

/** Without its samples: thousands of logs would not fit. */
function light(log: ReturnType<typeof simulateLogs>[number]): typeof log {
  const none = new Float64Array(0);
  return {
    ...log,
    count: 0,
    timeUs: none,
    volts: none,
    amps: null,
    rpm: null,
    request: null,
    control: null,
    record: null,
  };
}

function inBand({ checked, unfounded }: Comparison, from: number, to: number): Comparison {
  const has = ({ log }: { log: { logger: { rateHz: number } } }) =>
    log.logger.rateHz >= from && log.logger.rateHz <= to;
  return { checked: checked.filter(has), unfounded: unfounded.filter(has) };
}

function figuresOf(some: Comparison): Figures {
  const fast = some.checked.filter(({ log }) => log.logger.rateHz >= 100);
  const withAmps = confusionOf(suspectPairs(some.checked, true));
  const without = confusionOf(suspectPairs(some.checked, false));
  return {
    ...finding(some),
    ...onset(some.checked),
    ...seconds(some.checked),
    ...volts(some.checked),
    ...speed(some.checked),
    patternMacroF1: macroF1(confusionOf(patternPairs(some.checked))),
    ...(fast.length === 0 ? {} : { patternMacroF1From100Hz: macroF1(confusionOf(patternPairs(fast))) }),
    suspectAccuracyWithAmps: accuracy(withAmps),
    suspectAccuracyWithoutAmps: accuracy(without),
  };
}
