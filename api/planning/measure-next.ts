import { benchTest } from '../../etl/model/bench-tests.ts';
import type { Pattern } from '../../etl/model/words.ts';
import type { RankedRow } from '../../etl/store/store.ts';

/**
 * What to measure next on a unit, in the order in which a mechanic would: the battery before what hangs on it, the
 * cheap test before the dear one. Each line says why, what it should read and where that figure comes from.
 *
 * The order follows the diagnosis as taught: a weak battery makes everything behind it look bad; slow cranking at good
 * volts is resistance in the circuit or drag, told apart by the draw; dropouts and silence are the control circuit or
 * the solenoid.
 */
export type MeasureQuestion = {
  systemVolts: 12 | 24;
  ranked: readonly Pick<RankedRow, 'position' | 'component' | 'action' | 'pFailToNextVisit'>[];
  /** How often each pattern occurred among the newest cranks. */
  recentPatterns: Partial<Record<Pattern, number>>;
};

export type Measurement = { test: string; why: string; expected: string; source: string };

export function measureNext(question: MeasureQuestion): Measurement[] {
  const wanted = new Map<string, string>();
  // The first reason for a test is the one that is told.
  for (const { applies, tests, why } of FINDINGS)
    if (applies(question)) for (const test of tests) if (!wanted.has(test)) wanted.set(test, why(question));
  return [...wanted].map(([test, why]) => ({ test, why, ...expected(test, question.systemVolts) }));
}

function expected(test: string, systemVolts: 12 | 24): { expected: string; source: string } {
  const { expected12, expected24, source, how } = benchTest(test);
  return { expected: `${systemVolts === 24 ? expected24 : expected12} (${how})`, source };
}

type Finding = {
  applies: (question: MeasureQuestion) => boolean;
  tests: readonly string[];
  why: (question: MeasureQuestion) => string;
};

const FINDINGS: readonly Finding[] = [
  {
    applies: (question) => isDue(question, 'battery'),
    tests: ['open_circuit_voltage', 'load_test_voltage'],
    why: (question) => dueWords(question, 'battery'),
  },
  {
    applies: (question) => isDue(question, 'starter'),
    tests: ['cranking_voltage', 'voltage_drop_positive', 'voltage_drop_ground', 'starter_current_draw'],
    why: (question) => dueWords(question, 'starter'),
  },
  {
    applies: ({ recentPatterns }) => times(recentPatterns, ['slow']) > 0,
    tests: ['cranking_voltage', 'starter_current_draw'],
    why: ({ recentPatterns }) => `${times(recentPatterns, ['slow'])} of the newest cranks turned slowly`,
  },
  {
    applies: ({ recentPatterns }) => times(recentPatterns, CONTACT) > 0,
    tests: ['voltage_drop_contacts', 'control_terminal_voltage', 'motor_terminal_voltage'],
    why: ({ recentPatterns }) => `${times(recentPatterns, CONTACT)} of the newest cranks lost contact or did not turn`,
  },
  {
    applies: ({ recentPatterns }) => times(recentPatterns, ['no_response']) > 0,
    tests: ['control_terminal_voltage'],
    why: ({ recentPatterns }) => `${times(recentPatterns, ['no_response'])} starts were requested and nothing drew`,
  },
];

const CONTACT: readonly Pattern[] = ['dropout', 'chatter', 'solenoid_only'];

const times = (patterns: MeasureQuestion['recentPatterns'], which: readonly Pattern[]) =>
  which.reduce((sum, pattern) => sum + (patterns[pattern] ?? 0), 0);

const isDue = ({ ranked }: MeasureQuestion, component: string) =>
  ranked.some((row) => row.component === component && row.action !== 'leave');

function dueWords({ ranked }: MeasureQuestion, component: string): string {
  const chances = ranked
    .filter((row) => row.component === component)
    .flatMap(({ position, pFailToNextVisit: chance }) => (chance === null ? [] : [{ position, chance }]));
  const likeliest = chances.toSorted((a, b) => b.chance - a.chance)[0];
  if (likeliest === undefined) return `no forecast can be made for the ${component}`;
  // A unit of two engines has two of them.
  const named = [likeliest.position, component].filter((word) => word !== '').join(' ');
  return `the ${named} is ${Math.round(likeliest.chance * 100)} % likely to fail before the next visit`;
}
