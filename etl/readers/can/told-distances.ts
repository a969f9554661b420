/**
 * Control units of one truck may disagree on how far it has gone (one was replaced, another counts from a gearbox).
 * Nothing is averaged and none is taken for the truth: both are told.
 */
type Reading = { source: number; spn: number; km: number; us: number; line: number };

/** Two counters read at different times differ by what a truck drives meanwhile, at most 50 m/s, and their own steps. Program. */
const STEP_KM = 2;
const KM_PER_SECOND = 0.05;
const MOST_NOTES = 10;

export class ToldDistances {
  readonly #latest = new Map<string, Reading>();
  readonly #told = new Map<string, string>();

  read(reading: Reading): void {
    const key = `${reading.source} ${reading.spn}`;
    for (const [otherKey, other] of this.#latest)
      if (otherKey !== key && other.source !== reading.source) this.#compare(other, reading);
    this.#latest.set(key, reading);
  }

  notes(): string[] {
    return [...this.#told.values()].slice(0, MOST_NOTES);
  }

  #compare(other: Reading, reading: Reading): void {
    const possible = STEP_KM + (Math.abs(reading.us - other.us) / 1e6) * KM_PER_SECOND;
    const pair = `${Math.min(other.source, reading.source)} ${Math.max(other.source, reading.source)}`;
    if (Math.abs(reading.km - other.km) <= possible || this.#told.has(pair)) return;
    this.#told.set(pair, `control units disagree on distance: ${said(other)}, ${said(reading)}: neither is used`);
  }
}

function said({ source, km, line }: Reading): string {
  return `${source} says ${km.toFixed(1)} km (line ${line})`;
}
