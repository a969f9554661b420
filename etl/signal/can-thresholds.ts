/**
 * Numbers for reading cranks off a data bus. What a crank is at all (running speed, dropout, charging window) stands in
 * `thresholds.ts`. "Program" marks a limit of ours.
 */
export const CAN_THRESHOLDS = {
  /** Readings of one unit further apart than this, or a clock set back by more, are two records: 2 s by contract of files. */
  recordGapSeconds: 2,
  /** Resting level: median of the readings this long before onset: three of a message that comes once a second. Program. */
  restSeconds: 3,
  /** Sensors read 0 at standstill; below this nothing turns. Program. */
  stillRpm: 10,
  /** An onset or release that falls between two speed readings further apart than this gives no duration. Program. */
  edgeSeconds: 0.5,
  /** A crank told by speed alone that does not start lasts this long: an engine that rocks to a stop shows less. Program. */
  speedOnlySeconds: 0.5,
  /** SPN 1675 is sent every 10 to 100 ms; silent for so long, it decides nothing. Program. */
  modeSilentSeconds: 1,
  /** A starter held on after the engine runs is let go within this; else the code hangs. Program. */
  overrunSeconds: 3,
  /** An engine that has fired is over running speed within this after release. Program. */
  firedWithinSeconds: 2,
  /** Older than this a temperature is not that of the crank. Program. */
  temperatureSeconds: 600,
  /** Coolant is as warm as the battery only after a long stand; warmer than this, it may still be cooling down. Program. */
  coldCoolantC: 30,
  coldStandSeconds: 4 * 3600,
  /** Speed readings held of one crank: 90 s at 100 readings a second, with room. */
  mostReadings: 20_000,
} as const;

/** SPN 1675, codes from memory: 1 active, gear not engaged; 2 active, gear engaged. */
export const STARTER_ACTIVE: ReadonlySet<number> = new Set([1, 2]);
export const STARTER_ENGAGED = 2;
/**
 * Asked for and held back: engine not ready, driveline engaged, immobiliser, starter too hot, reason unknown. (4, the
 * engine runs already, is no start that failed.)
 */
export const STARTER_INHIBITED: ReadonlySet<number> = new Set([5, 6, 7, 8, 12]);
