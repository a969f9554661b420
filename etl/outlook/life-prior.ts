import type { ForecastComponent } from '../model/words.ts';

/**
 * How long parts last before the fleet's own records say so: a Weibull with uncertain shape and scale.
 * Battery: shape 2–4, scale 45–60 months (from memory); cars 4 to 6 years (Kerley 2014), 24 V trucks 2 to 4 (from memory).
 * Starter: at least 30,000 starts by design, 60,000 at most (Argonne report on stop and restart); 8 starts a day make that
 * some ten years, and brushes and contacts fail before the armature (Mayda & Gultekin 2018): scale 7.5 years, wide.
 */
export type LifePrior = { shape: number; logShapeSd: number; scaleDays: number; logScaleSd: number };

const DAYS_PER_MONTH = 30.44;

export const LIFE_PRIOR: Record<ForecastComponent, LifePrior> = {
  battery: { shape: 2.5, logShapeSd: 0.3, scaleDays: 54 * DAYS_PER_MONTH, logScaleSd: 0.35 },
  starter: { shape: 2, logShapeSd: 0.35, scaleDays: 90 * DAYS_PER_MONTH, logScaleSd: 0.5 },
};

/** How far a class may differ from the fleet (sd of log scale, of log shape): convention of this program. */
export const CLASS_LOG_SCALE_SD = 0.25;
export const CLASS_LOG_SHAPE_SD = 0.1;
/** Events from which a class has a scale of its own, and a shape of its own. */
export const OWN_SCALE_EVENTS = 10;
export const OWN_SHAPE_EVENTS = 30;
