import { referenceColumns } from './reference-data.ts';

/** Lives with a score out of a CSV file of tests/reference/data: as scores and as forecast probabilities. */
export function watchedLives(file: string, column: string) {
  const { time, event, [column]: score } = referenceColumns(file, ['time', 'event', column]);
  return { time: time!, event: Uint8Array.from(event!), score: score!, pFail: score! };
}
