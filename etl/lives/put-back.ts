import type { ClauseReading } from './read-clause.ts';

/** "original battery put back", "swapped back": what was fitted for a try came out again. */
const PUT_BACK =
  /\b(?:original|old|existing|same|previous|first)(?: \w+){0,2} (?:put back|back in|back on|refitted|re ?installed|reused|went back)\b|\b(?:put|swapped|changed|fitted|went) back (?:the )?(?:original|old|existing|same|previous)\b|\bswapped (?:them |it )?back\b/;

/** Part after part: a replacement that a later clause takes back was none. */
export function undoPutBack(readings: readonly { clause: string; reading: ClauseReading }[]): void {
  readings.forEach(({ clause }, index) => {
    const back = PUT_BACK.exec(clause)?.[0];
    if (back === undefined) return;
    const tried = readings.slice(0, index + 1).findLast(({ reading }) => reading.action?.event === 'replaced');
    if (tried !== undefined) Object.assign(tried.reading, { action: null, cleared: back });
  });
}
