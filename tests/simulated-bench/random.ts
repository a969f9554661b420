/** A seeded stream of random numbers (mulberry32) with the draws that the bench needs. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = (Math.imul(seed, 0x9e3779b1) + 0x6d2b79f5) | 0;
  }

  /** Evenly in [0, 1). */
  even(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.even();
  }

  chance(share: number): boolean {
    return this.even() < share;
  }

  among<T>(choices: readonly T[]): T {
    return choices[Math.floor(this.even() * choices.length)]!;
  }

  /** Standard normal, by Box and Muller. */
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.even())) * Math.cos(2 * Math.PI * this.even());
  }
}
