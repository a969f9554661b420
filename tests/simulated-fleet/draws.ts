import { Random } from '../simulated-bench/random.ts';

/** A stream of its own for each purpose, so that another logger or workshop leaves the wear as it was. */
export class Draws extends Random {
  constructor(seed: number, ...purpose: readonly (string | number)[]) {
    super(hashOf(`${seed} ${purpose.join(' ')}`));
  }

  /** Median 1. */
  lognormal(sd: number): number {
    return Math.exp(sd * this.normal());
  }

  /** Mean 1, exponential: the jumps of a day's wear. */
  exponential(): number {
    return -Math.log(1 - this.even());
  }

  whole(low: number, high: number): number {
    return low + Math.floor(this.even() * (high - low + 1));
  }

  /** By multiplication of uniforms (Knuth): for means of some units. */
  poisson(mean: number): number {
    const limit = Math.exp(-mean);
    let [count, product] = [0, this.even()];
    while (product > limit) {
      count++;
      product *= this.even();
    }
    return count;
  }
}

/** FNV-1a. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash | 0;
}
