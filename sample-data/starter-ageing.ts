import type { Random } from './random.ts';

/**
 * How a starter ages here, an engagement at a time.
 *
 * - Brushes lose length in proportion to the charge that they carried (current × seconds). The spring follows down to
 *   about a third of the length; then contact resistance rises with the square of the way past, and dead spots begin,
 *   ever more often.
 * - The solenoid's main contacts lose copper in jumps of random size, larger where the voltage was low as they closed.
 *   Near the end they close without passing current: a click.
 * - Windings, the drive clutch and the solenoid's coil fail at random, with no warning.
 */
export type Starter = {
  fittedDay: number;
  /** A·s that bring the brushes from 1 to 0. */
  brushAmpSeconds: number;
  /** Mean jump of contact erosion per engagement. */
  erosionPerStart: number;
  /** Remaining length, 1 new, 0 gone. */
  brush: number;
  /** 0 new, 1 worn through. */
  erosion: number;
  starts: number;
  broken: 'winding' | 'drive_clutch' | 'solenoid_coil' | null;
  failedDay: number | null;
};

/** Brush length at which the spring's force begins to fail, over new length. */
const SPRING_LENGTH = 0.33;

export function newStarter(random: Random, fittedDay: number, design: { starts: number; ampSeconds: number }): Starter {
  return {
    fittedDay,
    brushAmpSeconds: design.starts * design.ampSeconds * random.lognormal(0.24),
    erosionPerStart: 1 / (design.starts * 1.15 * random.lognormal(0.26)),
    brush: 1,
    erosion: 0,
    starts: 0,
    broken: null,
    failedDay: null,
  };
}

export function wearStarter(starter: Starter, crank: { ampSeconds: number; dipShare: number; random: Random }): void {
  starter.starts += 1;
  starter.brush = Math.max(0, starter.brush - crank.ampSeconds / starter.brushAmpSeconds);
  const arc = crank.dipShare < 0.5 ? 1.8 : 1;
  starter.erosion = Math.min(1.2, starter.erosion + arc * crank.random.exponential(starter.erosionPerStart));
}

/** Years before the log, in one step: as many starts at the mean current. */
export function wearUnwatched(starter: Starter, starts: number, ampSeconds: number): void {
  starter.starts += starts;
  starter.brush = Math.max(0, starter.brush - (starts * ampSeconds) / starter.brushAmpSeconds);
  starter.erosion = Math.min(1.2, starter.erosion + starts * starter.erosionPerStart);
}

/** Resistance of brushes and contacts over the motor's own when new. */
export function addedResistance(starter: Starter): number {
  const bare = Math.max(0, SPRING_LENGTH - starter.brush) / SPRING_LENGTH;
  const worn = Math.min(1, starter.erosion);
  return 0.04 * (1 - starter.brush) + 0.55 * bare * bare + (0.22 * worn * worn) / (1.12 - worn);
}

/** Chance that the brushes sit on a dead spot at this engagement. */
export function deadSpotChance(starter: Starter): number {
  if (starter.brush > 0.26) return 0;
  return Math.min(0.92, 0.0025 * Math.exp((0.26 - starter.brush) / 0.032));
}

/** Chance that the contacts close without passing current. */
export function clickChance(starter: Starter): number {
  if (starter.erosion < 0.8) return 0;
  return Math.min(0.93, 0.002 * Math.exp((starter.erosion - 0.8) / 0.034));
}

export function starterPastUse(starter: Starter): boolean {
  return starter.broken !== null || deadSpotChance(starter) > 0.08 || clickChance(starter) > 0.08;
}

/** The word for what wore it out. */
export function starterCause(starter: Starter): string {
  if (starter.broken !== null) return starter.broken;
  return deadSpotChance(starter) >= clickChance(starter) ? 'brushes' : 'contacts';
}
