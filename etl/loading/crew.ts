import { Worker, type WorkerOptions } from 'node:worker_threads';
import { SearchBeside } from './search-beside.ts';

/** Small files that one thread has at a time: those that are read while it starts, and while the store takes one in. */
export const PLACES = 12;

/** One thread, and how much of it is free. */
export class Hand {
  readonly worker: Worker;
  /** Settles when the thread has ended, with why. */
  readonly ended: Promise<string>;
  places = PLACES;
  alive = true;
  #searches: SearchBeside | null = null;

  constructor(entry: URL, options: WorkerOptions = {}) {
    this.worker = new Worker(entry, options);
    this.ended = new Promise((resolve) => {
      this.worker.once('error', (error) => resolve(error.message));
      this.worker.once('exit', (code) => resolve(`exit code ${code}`));
    });
    void this.ended.then(() => (this.alive = false));
  }

  /** Its searches of what is read here. */
  get searches(): SearchBeside {
    return (this.#searches ??= new SearchBeside(this));
  }
}

/** The hand that a file was given. */
export type Claim = { hand: Hand; release: () => void };

/** While files are read this thread has as much to do as one of them; when engines are finished it only writes. */
export const forFiles = (jobs: number) => Math.max(1, jobs - 1);

/**
 * Hands out places in the order in which they are asked for: a large file waits for a whole thread. Threads are started
 * as they are needed: the first one at once.
 */
export class Crew {
  readonly #entry: URL;
  readonly #hands: Hand[];
  readonly #jobs: number;
  #dismissed = false;
  readonly #waiting: { places: number; resolve: (claim: Claim) => void }[] = [];

  constructor(jobs: number, entry: URL) {
    this.#entry = entry;
    this.#jobs = jobs;
    this.#hands = [new Hand(entry)];
  }

  /** Every thread, for work that is not a file. */
  all(): readonly Hand[] {
    this.#replaceEnded();
    while (this.#hands.length < this.#jobs) this.#hands.push(new Hand(this.#entry));
    return this.#hands;
  }

  /** A place in a thread, or all of one. */
  async claim(whole: boolean): Promise<Claim> {
    return new Promise((resolve) => {
      this.#waiting.push({ places: whole ? PLACES : 1, resolve });
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
      const claim = this.#claimNow(next.places);
      if (claim === null) return;
      this.#waiting.shift();
      next.resolve(claim);
    }
  }

  #claimNow(places: number): Claim | null {
    this.#replaceEnded();
    const hand = this.#freest(places);
    if (hand === null) return null;
    hand.places -= places;
    const release = () => {
      hand.places += places;
      this.#serve();
    };
    return { hand, release };
  }

  /** Of the threads that have room the one with the most; a new one where none has. */
  #freest(places: number): Hand | null {
    const [freest] = this.#hands.toSorted((a, b) => b.places - a.places);
    if (freest !== undefined && freest.places >= places) return freest;
    if (this.#dismissed || this.#hands.length >= forFiles(this.#jobs)) return null;
    const hand = new Hand(this.#entry);
    this.#hands.push(hand);
    return hand;
  }

  /** A thread that died has taken its file with it; the next file gets a new one. */
  #replaceEnded(): void {
    if (this.#dismissed) return;
    for (const [at, hand] of this.#hands.entries()) if (!hand.alive) this.#hands[at] = new Hand(this.#entry);
  }
}
