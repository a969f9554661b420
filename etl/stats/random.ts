/**
 * Seeded random numbers.
 *
 * For: the draws of a simulation that must come out the same today and tomorrow, and the same for one engine whatever
 * other engines the fleet has: give each its own stream by its key.
 * Generator: xoroshiro128+ of pure-rand. Normal deviates: Box & Muller 1958. No unit.
 *
 * @example createRandom(7, 'T-014 battery').normal() // always the same number
 */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

export type Random = {
  /** Uniform on [0, 1), 53 bits. */
  uniform(): number;
  /** Mean 0, standard deviation 1. */
  normal(): number;
};

export function createRandom(seed: number, key = ''): Random {
  const generator = xoroshiro128plus(seed ^ hash32(key));
  const uniform = (): number => uniformFloat64(generator);
  let spare: number | null = null;
  const normal = (): number => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log1p(-uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return { uniform, normal };
}

/** FNV-1a over the UTF-16 code units (Fowler, Noll & Vo): spreads keys that differ in one character. 0 for no key. */
function hash32(key: string): number {
  if (key === '') return 0;
  let hash = 0x811c9dc5;
  for (let i = 0; i < key.length; i++) hash = Math.imul(hash ^ key.charCodeAt(i), 0x01000193);
  return hash;
}
