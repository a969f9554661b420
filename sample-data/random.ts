import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/**
 * Random draws for the invented fleet. Every unit and every purpose has a stream of its own, made from the fleet's seed
 * and the stream's labels: so unit 7 is the same in a fleet of 10 and of 5,000, and one more draw in one place leaves
 * all others as they were.
 */
export type Random = {
  /** Uniform in (0, 1), 32 bits. */
  uniform(): number;
  between(low: number, high: number): number;
  /** Standard normal. */
  normal(): number;
  /** exp(sigma · normal): median 1. */
  lognormal(sigma: number): number;
  exponential(mean: number): number;
  poisson(mean: number): number;
  chance(probability: number): boolean;
  /** Integer from low to high, both included. */
  integer(low: number, high: number): number;
  pick<Item>(items: readonly Item[]): Item;
};

/** FNV-1a over the labels, finished as in MurmurHash3 so that neighbouring labels give unlike seeds. */
export function streamSeed(seed: number, labels: readonly (string | number)[]): number {
  let hash = 0x811c9dc5;
  for (const char of `${seed}/${labels.join('/')}`) hash = Math.imul(hash ^ char.charCodeAt(0), 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return hash ^ (hash >>> 16);
}

export function createRandom(seed: number, ...labels: (string | number)[]): Random {
  const generator = xoroshiro128plus(streamSeed(seed, labels));
  const uniform = (): number => ((generator.next() >>> 0) + 0.5) / 2 ** 32;
  const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const exponential = (mean: number): number => -mean * Math.log(uniform());
  const integer = (low: number, high: number): number => low + Math.floor(uniform() * (high - low + 1));
  return {
    uniform,
    normal,
    exponential,
    integer,
    between: (low, high) => low + (high - low) * uniform(),
    lognormal: (sigma) => Math.exp(sigma * normal()),
    chance: (probability) => uniform() < probability,
    poisson: (mean) => poisson(mean, uniform),
    pick: (items) => pick(items, uniform),
  };
}

/** Knuth's product method: fine for the small means used here. */
function poisson(mean: number, uniform: () => number): number {
  const limit = Math.exp(-mean);
  let count = 0;
  for (let product = uniform(); product > limit; product *= uniform()) count += 1;
  return count;
}

function pick<Item>(items: readonly Item[], uniform: () => number): Item {
  const item = items[Math.floor(uniform() * items.length)];
  if (item === undefined) throw new RangeError('pick requires at least one item, got none (random)');
  return item;
}
