/**
 * Whether a log holds enough of a crank for anyone to find it: from the truth and the logger alone, never from what the
 * program made of it. The strict figures count all cranks; those beside them leave out what no reader of the samples
 * could know.
 */
import type { Checked } from './compare.ts';

/** Of all samples of the crank together, as of one mean: less is not told from noise (six standard deviations). */
const LEAST_NOISES = 6;
/** Of the inrush's fall, what one sample must have met of it: less looks like any motor's, or a lamp's. */
const INRUSH_SHARE = 0.25;

export function isKnowable({ log, crank }: Pick<Checked, 'log' | 'crank'>): boolean {
  const { rateHz, noiseVolts, stepVolts, logs } = log.logger;
  const fall = crank.restVolts - crank.dipVolts;
  const samples = Math.max(1, (crank.release - crank.onset) * rateHz);
  const noise = Math.hypot(noiseVolts, stepVolts / Math.sqrt(12));
  if (fall < stepVolts || fall * Math.sqrt(samples) < LEAST_NOISES * noise) return false;
  const turnsNothing = crank.pattern === 'solenoid_only' || crank.pattern === 'free_spin';
  // A step at one end only is that of any load that goes on or off, unless somebody is known to ask for a start.
  if (turnsNothing && crank.view !== 'whole' && !logs.request && !logs.control) return false;
  return crank.pattern !== 'free_spin' || crank.view !== 'whole' || metOf(crank, fall) >= INRUSH_SHARE;
}

function metOf({ restVolts, sampledDip }: Checked['crank'], fall: number): number {
  return (restVolts - sampledDip) / fall;
}
