/**
 * The closed vocabularies. Their order is part of the stored format (a column block holds the index), so words are
 * only ever appended.
 */
export const COMPONENTS = ['battery', 'starter', 'cables', 'control', 'charging'] as const;
export type Component = (typeof COMPONENTS)[number];

/** Components that get an outlook today. */
export const FORECAST_COMPONENTS = ['battery', 'starter'] as const;
export type ForecastComponent = (typeof FORECAST_COMPONENTS)[number];

export const SOURCES = ['waveform', 'cranks', 'can'] as const;

/** What a crank turned out to be; the first that holds, in this order. */
export const PATTERNS = [
  'unreadable',
  'preheat',
  'no_response',
  'free_spin',
  'chatter',
  'solenoid_only',
  'dropout',
  'slow',
  'long',
  'steady',
] as const;
export type Pattern = (typeof PATTERNS)[number];

/** Patterns that are rows but are not counted as cranks. */
export const NOT_CRANKS: readonly Pattern[] = ['unreadable', 'preheat', 'no_response'];

export const SUSPECTS = ['battery', 'starter', 'cables', 'control', 'starter_loop'] as const;
export type Suspect = (typeof SUSPECTS)[number];

export const OUTCOMES = ['started', 'failed'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** Why a feature is absent or weak. A crank holds a set of these as bits: word i is bit i. */
export const QUALITY_WORDS = [
  'begun_before_record',
  'ended_after_record',
  'rate_too_low',
  'too_short',
  'no_rest',
  'gap',
  'clipped',
  'rpm_logged',
  'no_cylinders',
  'no_ripple',
  'system_volts_differ',
  'restarted_running',
] as const;
export type QualityWord = (typeof QUALITY_WORDS)[number];

export function qualityBit(word: QualityWord): number {
  return 2 ** QUALITY_WORDS.indexOf(word);
}

/** Bits → words joined by `;`, in the order of the list. */
export function qualityWords(bits: number): string {
  return QUALITY_WORDS.filter((_, index) => Math.floor(bits / 2 ** index) % 2 === 1).join(';');
}

export const INDICATORS = [
  'log_sag_ratio',
  'rest_volts',
  'crank_volts',
  'crank_rpm',
  'crank_seconds',
  'dropouts_per_100',
  'retries_per_100',
  'battery_ohms',
  'loop_ohms',
] as const;
export type Indicator = (typeof INDICATORS)[number];

export const LIFE_ENDS = ['failure', 'planned', 'in_service'] as const;
export type LifeEnd = (typeof LIFE_ENDS)[number];

export const EVENTS = ['replaced', 'repaired', 'jump_started', 'no_start', 'inspected', 'unrelated'] as const;
export type RepairEvent = (typeof EVENTS)[number];

export const ACTIONS = ['book_now', 'book_at_next_visit', 'measure_first', 'leave'] as const;
export type Action = (typeof ACTIONS)[number];

/** Which parts carried an outlook; words joined by `;` in the export. */
export const BASIS_WORDS = ['prior', 'lives', 'condition', 'beyond_horizon', 'none'] as const;
export type BasisWord = (typeof BASIS_WORDS)[number];
