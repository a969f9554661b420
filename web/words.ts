/** The words of the page for the closed vocabularies of the answers: one word per thing, said the same everywhere. */
import type { RankingRow } from '../api/contract/ranking.ts';
import type { Life, UnitTrend, UnitView, UnitWorkOrder } from '../api/contract/unit.ts';

export type Component = Life['component'];
export type ForecastComponent = RankingRow['component'];
export type Action = RankingRow['action'];
export type Indicator = UnitTrend['indicator'];
export type Pattern = UnitView['waveforms'][number]['pattern'];

export const COMPONENT_WORDS: Record<Component | 'none', string> = {
  battery: 'Battery',
  starter: 'Starter',
  cables: 'Cables',
  control: 'Start control',
  charging: 'Charging',
  none: 'None',
};

export const ACTION_WORDS: Record<Action, string> = {
  book_now: 'Book now',
  book_at_next_visit: 'At next visit',
  measure_first: 'Measure first',
  leave: 'Leave',
};

export const ACTION_MEANINGS: Record<Action, string> = {
  book_now: 'Waiting until the next visit is expected to cost more than pulling the unit in.',
  book_at_next_visit: 'Replace it when the unit is in the bay anyway.',
  measure_first: 'A cheap test could change the decision: measure before ordering parts.',
  leave: 'Replacing it now would throw away more service life than it saves.',
};

export const VISIT_WORDS: Record<RankingRow['nextVisitFrom'], string> = {
  booked: 'booked job',
  shop_visit: 'shop visit',
  maintenance: 'maintenance',
  assumed: 'assumed',
};

export const EVENT_WORDS: Record<UnitWorkOrder['event'], string> = {
  replaced: 'Replaced',
  repaired: 'Repaired',
  jump_started: 'Jump-started',
  no_start: 'No start',
  inspected: 'Inspected',
  unrelated: 'Unrelated',
};

export const LIFE_END_WORDS: Record<Life['end'], string> = {
  failure: 'failed',
  planned: 'replaced as planned',
  in_service: 'in service',
};

export const SUSPECT_WORDS: Record<NonNullable<UnitView['waveforms'][number]['suspect']>, string> = {
  battery: 'battery',
  starter: 'starter',
  cables: 'cables',
  control: 'start control',
  starter_loop: 'starter or cables',
};

export const PATTERN_WORDS: Record<Pattern, string> = {
  unreadable: 'unreadable',
  preheat: 'heater load, no crank',
  no_response: 'start requested, nothing drawn',
  free_spin: 'motor turned, engine did not',
  chatter: 'solenoid chattered',
  solenoid_only: 'solenoid only',
  dropout: 'contact lost while cranking',
  slow: 'turned slowly',
  long: 'turned well, long to fire',
  steady: 'steady',
};

/** What a file holds, as the server names it: a newer one may know more. */
export const KIND_WORDS: Readonly<Record<string, string>> = {
  units: 'register of units',
  components: 'parts fitted',
  waveform: 'voltage log',
  cranks: 'cranks',
  work_orders: 'work orders',
  bench_tests: 'bench tests',
  codes: 'trouble codes',
  bays: 'bay hours',
  shop_visits: 'shop visits',
  can_log: 'bus log',
  workbook: 'workbook',
};

/** A date of a window that an outlook of five years does not reach. */
export const BEYOND_OUTLOOK = 'over 5 years';

/** What carried an outlook. Unknown words are shown as they come: a newer server may know more. */
export const BASIS_MEANINGS: Readonly<Record<string, string>> = {
  prior: 'what is known of such parts elsewhere, or in other classes of this fleet: none of this class has failed yet',
  lives: 'this fleet’s own replacements',
  condition: 'this unit’s own readings',
  beyond_horizon: 'part of the window lies more than five years ahead and is left open',
  none: 'nothing to go on',
};

export const STANDING_WORDS: Readonly<Record<string, string>> = {
  too_few_points: 'too few days with a value for a trend',
  logger_silent: 'the logger has fallen silent',
  parked: 'the unit has been parked',
  not_recorded: 'not recorded by this logger',
};

/** Counts in a hundred: nothing on most days, and never less. */
export const COUNTED_INDICATORS: readonly Indicator[] = ['dropouts_per_100', 'retries_per_100'];

type IndicatorWords = {
  name: string;
  /** Unit of measure as shown behind a number; '' for none. */
  unit: string;
  decimals: number;
  /** Stored value → shown value. */
  scale: number;
  /** The stored value is the natural logarithm of what is shown; its slope is then a percentage. */
  logarithm?: true;
  meaning: string;
};

export const INDICATOR_WORDS: Record<Indicator, IndicatorWords> = {
  log_sag_ratio: {
    name: 'Sag ratio',
    unit: '',
    decimals: 2,
    scale: 1,
    logarithm: true,
    meaning: 'Battery resistance over the rest of the loop. Rising points to the battery, falling to the starter loop.',
  },
  rest_volts: {
    name: 'Overnight rest voltage',
    unit: 'V',
    decimals: 2,
    scale: 1,
    meaning: 'Unloaded level before the first start of a day.',
  },
  crank_volts: {
    name: 'Cranking voltage',
    unit: 'V',
    decimals: 2,
    scale: 1,
    meaning: 'Mean at the bank while the engine turns.',
  },
  crank_rpm: {
    name: 'Cranking speed',
    unit: 'rpm',
    decimals: 0,
    scale: 1,
    meaning: 'From the compression ripple of the voltage.',
  },
  crank_seconds: { name: 'Crank time', unit: 's', decimals: 2, scale: 1, meaning: 'Onset to release.' },
  dropouts_per_100: {
    name: 'Dropouts',
    unit: 'per 100 cranks',
    decimals: 1,
    scale: 1,
    meaning: 'Contact lost and regained.',
  },
  retries_per_100: {
    name: 'Retries',
    unit: 'per 100 cranks',
    decimals: 1,
    scale: 1,
    meaning: 'Starts that took another crank.',
  },
  battery_ohms: {
    name: 'Battery resistance',
    unit: 'mΩ',
    decimals: 1,
    scale: 1000,
    meaning: 'From voltage and current at inrush.',
  },
  loop_ohms: {
    name: 'Loop resistance',
    unit: 'mΩ',
    decimals: 1,
    scale: 1000,
    meaning: 'Cables, contacts and motor at inrush.',
  },
};

/** `open_circuit_voltage` → `Open circuit voltage`. */
export function testName(test: string): string {
  const words = test.replaceAll('_', ' ');
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}
