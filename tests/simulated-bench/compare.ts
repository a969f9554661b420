/** Each true crank beside the row that was found for it, and the rows that nothing stands behind. */
import type { FinishedTable } from '../../etl/model/crank.ts';
import { NOT_CRANKS, PATTERNS, qualityWords, SUSPECTS, type Pattern } from '../../etl/model/words.ts';
import type { Log, LoggedCrank } from './logger.ts';
import { finishedOf } from './through-program.ts';

export type FoundRow = {
  timeUs: number;
  pattern: Pattern | '';
  suspect: string;
  quality: string;
  restVolts: number;
  dipVolts: number;
  crankVolts: number;
  crankRpm: number;
  crankSeconds: number;
  relativeCompression: number;
};

export type Checked = { log: Log; crank: LoggedCrank; found: FoundRow | null };
export type Comparison = { checked: Checked[]; unfounded: { log: Log; found: FoundRow }[] };

export function isCounted(pattern: string): boolean {
  return !(NOT_CRANKS as readonly string[]).includes(pattern);
}

export function compare(log: Log): Comparison {
  const rows = rowsOf(finishedOf(log));
  const taken = new Set<FoundRow>();
  const checked = log.cranks.map((crank): Checked => {
    const found = bestRow(rows, crank, taken, log);
    if (found !== null) taken.add(found);
    return { log, crank, found };
  });
  const unfounded = rows.filter((row) => !taken.has(row)).map((found) => ({ log, found }));
  return { checked, unfounded };
}

const NEAR_US = 0.35e6;

/** The row whose time is nearest to the onset among those that lie in the crank. */
function bestRow(
  rows: readonly FoundRow[],
  crank: LoggedCrank,
  taken: ReadonlySet<FoundRow>,
  log: Log,
): FoundRow | null {
  const slackUs = Math.max(NEAR_US, 1.5e6 / log.logger.rateHz);
  const fromUs = crank.onsetUs - slackUs;
  const toUs = crank.onsetUs + (crank.release - crank.onset) * 1e6;
  const heater = crank.pattern === 'preheat';
  const among = rows.filter((row) => !taken.has(row) && row.timeUs >= fromUs && row.timeUs <= toUs);
  const likely = heater ? among.filter(({ timeUs }) => timeUs < crank.onsetUs + 0.5e6) : among;
  return likely.reduce<FoundRow | null>((best, row) => {
    const off = (each: FoundRow) =>
      Math.abs(each.timeUs - crank.onsetUs) + (isCounted(each.pattern) === isCounted(crank.pattern) ? 0 : 1e9);
    return best === null || off(row) < off(best) ? row : best;
  }, null);
}

function rowsOf({ count, columns }: FinishedTable): FoundRow[] {
  return Array.from({ length: count }, (_, i) => ({
    timeUs: columns.timeUs[i]!,
    pattern: PATTERNS[columns.pattern[i]!] ?? '',
    suspect: SUSPECTS[columns.suspect[i]!] ?? '',
    quality: qualityWords(columns.quality[i]!),
    restVolts: columns.restVolts[i]!,
    dipVolts: columns.dipVolts[i]!,
    crankVolts: columns.crankVolts[i]!,
    crankRpm: columns.crankRpm[i]!,
    crankSeconds: columns.crankSeconds[i]!,
    relativeCompression: columns.relativeCompression[i]!,
  }));
}
