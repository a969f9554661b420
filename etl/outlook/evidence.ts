import type { ForecastComponent, Indicator } from '../model/words.ts';
import type { Drift } from '../trends/trend-of.ts';
import { chargeBand, loadTestOhms } from './battery-tables.ts';
import type { ConditionPath } from './condition-index.ts';
import type { LifeModel } from './life-model.ts';
import { counted } from '../model/counted.ts';

export type EvidenceInput = {
  component: ForecastComponent;
  class: string;
  ageDays: number | null;
  life: LifeModel;
  path: ConditionPath | null;
  drifts: Partial<Record<Indicator, Drift>>;
  /** What each indicator adds to the log of the hazard, on top of wear, as the fleet's past has it. */
  carried: Partial<Record<Indicator, number>>;
  /** Jump starts and no-starts of the last 90 days, as records have them. */
  troubles: { jumpStarts: number; noStarts: number };
  hasTemperature: boolean;
  systemVolts: 12 | 24;
  batteryCcaA: number;
};

const YEAR = 365.25;
const MONTH = YEAR / 12;
const one = (value: number) => value.toFixed(1);

type Reason = { strength: number; words: string };

/** Up to three reasons in words with numbers, strongest first. */
export function evidenceOf(input: EvidenceInput): string[] {
  const reasons = [...troubleReasons(input), ...conditionReasons(input), ageReason(input), ...temperatureReason(input)];
  return reasons
    .sort((a, b) => b.strength - a.strength)
    .slice(0, 3)
    .map(({ words }) => words);
}

function troubleReasons({ troubles, component }: EvidenceInput): Reason[] {
  const { jumpStarts, noStarts } = troubles;
  const words: Reason[] = [];
  if (jumpStarts > 0 && component === 'battery')
    words.push({ strength: 4 + jumpStarts, words: `${counted(jumpStarts, 'jump start')} in the last 90 days` });
  if (noStarts > 0)
    words.push({ strength: 2 + noStarts, words: `${counted(noStarts, 'no-start')} recorded in the last 90 days` });
  return words;
}

/** How an indicator reads aloud: its name, its unit, how a level and a slope are put. */
const NAMES: Record<Indicator, { name: string; text: (value: number) => string; slope: (perYear: number) => string }> =
  {
    log_sag_ratio: {
      name: 'sag ratio',
      text: (v) => Math.exp(v).toFixed(2),
      slope: (s) => `${percent(Math.exp(s) - 1)} a year`,
    },
    rest_volts: {
      name: 'overnight rest voltage',
      text: (v) => `${v.toFixed(2)} V`,
      slope: (s) => `${signed(s, 2)} V a year`,
    },
    crank_volts: {
      name: 'cranking voltage',
      text: (v) => `${v.toFixed(2)} V`,
      slope: (s) => `${signed(s, 2)} V a year`,
    },
    crank_rpm: {
      name: 'cranking speed',
      text: (v) => `${v.toFixed(0)} rpm`,
      slope: (s) => `${signed(s, 0)} rpm a year`,
    },
    crank_seconds: { name: 'crank time', text: (v) => `${v.toFixed(2)} s`, slope: (s) => `${signed(s, 2)} s a year` },
    dropouts_per_100: {
      name: 'dropouts',
      text: (v) => `${one(v)} in 100 cranks`,
      slope: (s) => `${signed(s, 1)} a year`,
    },
    retries_per_100: {
      name: 'retries',
      text: (v) => `${one(v)} in 100 cranks`,
      slope: (s) => `${signed(s, 1)} a year`,
    },
    battery_ohms: {
      name: 'battery resistance',
      text: (v) => `${(v * 1000).toFixed(1)} mΩ`,
      slope: (s) => `${signed(s * 1000, 1)} mΩ a year`,
    },
    loop_ohms: {
      name: 'starter loop resistance',
      text: (v) => `${(v * 1000).toFixed(1)} mΩ`,
      slope: (s) => `${signed(s * 1000, 1)} mΩ a year`,
    },
  };

function signed(value: number, places: number): string {
  const size = Math.abs(value).toFixed(places);
  // What rounds to nothing goes neither up nor down.
  return Number(size) === 0 ? `±${size}` : `${value > 0 ? '+' : '−'}${size}`;
}

function percent(share: number): string {
  return `${signed(share * 100, 0)} %`;
}

function conditionReasons(input: EvidenceInput): Reason[] {
  const { path, drifts, class: name, systemVolts } = input;
  if (path === null) return [];
  return path.parts.slice(0, 3).flatMap(({ indicator, distance, usual }) => {
    const drift = drifts[indicator];
    if (drift === undefined || drift.level === null) return [];
    const { name: title, text, slope } = NAMES[indicator];
    const trend = drift.slopePerYear === null ? '' : `, ${slope(drift.slopePerYear)}`;
    const level = `${title} ${text(drift.level)}${byTable(indicator, drift.level, input)}`;
    // A distance is of the newest weeks, a level of the whole course: what reads the same is no reason.
    const whose = usual.ofClass ? `class ${name}` : `${systemVolts} V units`;
    if (distance >= 1 && text(drift.level) !== text(usual.level)) {
      // Two that stand equally far out are put in the order in which they went before this fleet's failures.
      const strength = Math.max(distance, 1 + (input.carried[indicator] ?? 0) / Math.LN2);
      return [{ strength, words: `${level} (${whose}: ${text(usual.level)})${trend}` }];
    }
    return [{ strength: 0.3 + 0.1 * distance, words: `${level}, usual for ${whose}${trend}` }];
  });
}

/** What the handbook says of a level, where it says anything. */
function byTable(indicator: Indicator, level: number, { systemVolts, batteryCcaA }: EvidenceInput): string {
  if (indicator === 'rest_volts') {
    const { low, high } = chargeBand(level, systemVolts);
    return low >= 0.7 ? '' : `, ${Math.round(low * 100)} to ${Math.round(high * 100)} % charged`;
  }
  if (indicator !== 'battery_ohms') return '';
  const limit = loadTestOhms(batteryCcaA, systemVolts);
  return level > limit ? `, over the ${(limit * 1000).toFixed(1)} mΩ at which it would fail a load test` : '';
}

/** A part of some weeks is not `0.1 years` old. */
function ageWords(days: number): string {
  if (days < 2 * MONTH) return counted(Math.round(days), 'day');
  return days < YEAR ? `${Math.round(days / MONTH)} months` : `${one(days / YEAR)} years`;
}

function ageReason({ ageDays, life, component, class: name }: EvidenceInput): Reason {
  const half = (life.medianDays ?? life.best.scale * Math.LN2 ** (1 / life.best.shape)) / YEAR;
  const source =
    life.rung === 'prior'
      ? 'half are taken to last'
      : life.medianDays === null
        ? 'half are reckoned to last'
        : 'half have lasted';
  const words = `in class ${name} ${source} ${one(half)} years`;
  if (ageDays === null)
    return { strength: 0.6, words: `${component} of unknown age, in service before the records began; ${words}` };
  return {
    strength: Math.max(0.5, ageDays / (half * YEAR)),
    words: `${component} is ${ageWords(ageDays)} old; ${words}`,
  };
}

function temperatureReason({ hasTemperature, path }: EvidenceInput): Reason[] {
  if (path === null || hasTemperature) return [];
  return [{ strength: 0.55, words: 'no temperature logged: the season is only partly taken out, the band is wider' }];
}
