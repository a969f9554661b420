import { Worker, type WorkerOptions } from 'node:worker_threads';

/** Small files that one thread has at a time: while the store takes in the one, the others are read. */
export const PLACES = 4;

/** One thread, and how much of it is free. */
export class Hand {
  readonly worker: Worker;
  /** Settles when the thread has ended, with why. */
  readonly ended: Promise<string>;
  places = PLACES;
  alive = true;

  constructor(entry: URL, options: WorkerOptions = {}) {
    this.worker = new Worker(entry, options);
    this.ended = new Promise((resolve) => {
      this.worker.once('error', (error) => resolve(error.message));
      this.worker.once('exit', (code) => resolve(`exit code ${code}`));
    });
    void this.ended.then(() => (this.alive = false));
  }
}

/** The hands that a file was given: one that reads and, for a large file, one that searches. */
export type Claim = { reading: Hand; searching: Hand | null; release: () => void };

/** Hands out places in the order in which they are asked for: a large file waits for two whole threads. */
export class Crew {
  readonly #entry: URL;
  readonly #hands: Hand[];
  #dismissed = false;
  readonly #waiting: { large: boolean; resolve: (claim: Claim) => void }[] = [];

  constructor(jobs: number, entry: URL) {
    this.#entry = entry;
    this.#hands = Array.from({ length: jobs }, () => new Hand(entry));
  }

  /** Every thread, for work that is not a file. */
  all(): readonly Hand[] {
    this.#replaceEnded();
    return this.#hands;
  }

  async claim(large: boolean): Promise<Claim> {
    return new Promise((resolve) => {
      this.#waiting.push({ large, resolve });
      this.#serve();
    });
  }

  /** Ends every thread, whatever it is at. */
  stop(): void {
    void this.dismiss();
  }

  async dismiss(): Promise<void> {
    this.#dismissed = true;
    await Promise.all(this.#hands.map(async ({ worker }) => worker.terminate()));
  }

  #serve(): void {
    for (let next = this.#waiting[0]; next !== undefined; next = this.#waiting[0]) {
      const claim = this.#claimNow(next.large);
      if (claim === null) return;
      this.#waiting.shift();
      next.resolve(claim);
    }
  }

  #claimNow(large: boolean): Claim | null {
    this.#replaceEnded();
    const [reading, second] = this.#hands.toSorted((a, b) => b.places - a.places);
    const searching = large ? (second ?? null) : null;
    const places = large ? PLACES : 1;
    if (reading === undefined || reading.places < places || (searching !== null && searching.places < places))
      return null;
    const change = (by: number) => {
      reading.places += by;
      if (searching !== null) searching.places += by;
    };
    change(-places);
    const release = () => {
      change(places);
      this.#serve();
    };
    return { reading, searching, release };
  }

  /** A thread that died has taken its file with it; the next file gets a new one. */
  #replaceEnded(): void {
    if (this.#dismissed) return;
    for (const [at, hand] of this.#hands.entries()) if (!hand.alive) this.#hands[at] = new Hand(this.#entry);
  }
}
