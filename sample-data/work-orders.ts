import { DAYS_PER_YEAR, dateFromDay, instantText, yearFraction } from './calendar.ts';
import { cell, decimals } from './csv-file.ts';
import { VISIT_SECOND } from './unit-history.ts';
import { createRandom } from './random.ts';
import type { Random } from './random.ts';
import { HANDS, VAGUE_CORRECTIONS, asWritten, repairWords } from './repair-wording.ts';
import type { Words } from './repair-wording.ts';
import type { Repair, RepairFact } from './repair-fact.ts';
import type { UnitPlan } from './unit-plan.ts';
import { LOOK_ALIKES, ORDINARY_WORK, SERVICE_WORK } from './unrelated-work.ts';
import type { UnrelatedWork } from './unrelated-work.ts';

export const WORK_ORDER_COLUMNS = [
  'work_order',
  'unit',
  'opened',
  'closed',
  'entered',
  'odometer_km',
  'engine_hours',
  'complaint',
  'cause',
  'correction',
  'system_code',
  'road_call',
  'parts_cost',
  'labor_hours',
  'labor_cost',
  'downtime_hours',
  'position',
] as const;

/** An order as it was meant; `repair` is null for work that has nothing to do with cranking. */
type Order = Words & {
  repair: Repair | null;
  position: string;
  day: number;
  secondOfDay: number;
  hours: number;
  code: string;
  roadCall: boolean;
  parts: number;
  laborHours: number;
};

/** What an order truly was, for the truth folder. `legible`: a reader of the texts alone could tell. */
export type TrueOrder = {
  workOrder: string;
  repair: Repair | 'unrelated';
  position: string;
  legible: boolean;
  duplicateOf: string;
};

/** The fleet's own repair codes (invented), parts money for 12 V and 24 V, and hours. */
const REPAIR_COSTS: Readonly<Record<Repair, readonly [code: string, parts12: number, parts24: number, hours: number]>> =
  {
    battery_replaced: ['3210', 165, 420, 0.8],
    starter_replaced: ['3220', 310, 640, 2.2],
    jump_start: ['3210', 0, 0, 0.5],
    battery_charged: ['3210', 0, 0, 1],
    cables_cleaned: ['3230', 18, 45, 1.3],
    control_repaired: ['3240', 42, 60, 1.6],
    alternator_replaced: ['3110', 290, 520, 2],
    drain_traced: ['3210', 15, 20, 2.5],
    fuel_repaired: ['4400', 55, 80, 1.5],
  };
const LABOR_RATE = 112;
/** Other repairs than services, per unit and year. */
const REPAIRS_PER_YEAR = 2.6;

export type RecordsOf = { plan: UnitPlan; seed: number; firstDay: number; lastDay: number };

/** All work orders of a unit in the order in which they were opened: CSV lines, and what each truly was. */
export function writeWorkOrders(
  of: RecordsOf,
  facts: readonly RepairFact[],
  visitDays: readonly number[],
): { lines: string[]; truth: TrueOrder[] } {
  const random = createRandom(of.seed, of.plan.index, 'records');
  const orders = [
    ...facts.map((fact) => repairOrder(fact, of.plan, random)),
    ...visitDays.map((day) => unrelatedOrder(random.pick(SERVICE_WORK), { day, secondOfDay: VISIT_SECOND, random })),
    ...otherRepairs(of, random),
  ].sort((a, b) => a.day - b.day || a.secondOfDay - b.secondOfDay);
  const written = { lines: [] as string[], truth: [] as TrueOrder[] };
  for (const order of orders) writeOrder(order, { of, random, written });
  return written;
}

function repairOrder(fact: RepairFact, plan: UnitPlan, random: Random): Order {
  const [code, parts12, parts24, hours] = REPAIR_COSTS[fact.repair];
  const words = repairWords(fact.repair, fact.complaint, random);
  const parts = plan.class.systemVolts === 12 ? parts12 : parts24;
  return {
    ...fact,
    ...words,
    code,
    parts: parts * random.between(0.85, 1.2),
    laborHours: hours * random.between(0.7, 1.5),
  };
}

function otherRepairs({ plan, firstDay, lastDay }: RecordsOf, random: Random): Order[] {
  const from = Math.max(firstDay, plan.inServiceDay);
  const to = Math.min(lastDay, (plan.outOfServiceDay ?? lastDay + 1) - 1);
  const count = random.poisson((REPAIRS_PER_YEAR * Math.max(0, to - from)) / DAYS_PER_YEAR);
  return Array.from({ length: count }, () => {
    const work = random.pick(random.chance(0.12) ? LOOK_ALIKES : ORDINARY_WORK);
    return unrelatedOrder(work, { day: random.integer(from, to), secondOfDay: random.integer(21_600, 64_000), random });
  });
}

function unrelatedOrder(work: UnrelatedWork, at: { day: number; secondOfDay: number; random: Random }): Order {
  const { random } = at;
  const laborHours = work.hours * random.between(0.7, 1.6);
  const hours = laborHours + random.exponential(6);
  return {
    ...work,
    repair: null,
    position: '',
    day: at.day,
    secondOfDay: at.secondOfDay,
    hours,
    roadCall: random.chance(0.05),
    parts: work.parts * random.between(0.8, 1.3),
    laborHours,
  };
}

type Writing = { of: RecordsOf; random: Random; written: { lines: string[]; truth: TrueOrder[] } };

const VAGUE = 0.05;
const KEYED_TWICE = 0.025;

function writeOrder(order: Order, writing: Writing): void {
  const { random, of, written } = writing;
  const vague = random.chance(VAGUE);
  const texts = spokenTexts(order, { random, vague, hand: of.plan.hand });
  const first = writeRow(order, texts, { writing, daysLate: 0 });
  if (first === null) return;
  const repair: TrueOrder['repair'] = order.repair ?? 'unrelated';
  const truth = { repair, position: order.position, legible: !vague };
  written.truth.push({ workOrder: first, ...truth, duplicateOf: '' });
  if (!random.chance(KEYED_TWICE)) return;
  const second = writeRow(order, texts, { writing, daysLate: random.integer(1, 2) });
  if (second !== null) written.truth.push({ workOrder: second, ...truth, duplicateOf: first });
}

function spokenTexts(order: Order, how: { random: Random; vague: boolean; hand: number }): Words {
  const { random } = how;
  const hand = HANDS[random.chance(0.8) ? how.hand : random.integer(0, HANDS.length - 1)]!;
  const where = order.position !== '' && random.chance(0.6) ? `${order.position} engine ` : '';
  const correction = how.vague ? random.pick(VAGUE_CORRECTIONS) : order.correction;
  return {
    complaint: asWritten(where + order.complaint, hand, random),
    cause: how.vague || random.chance(0.4) ? '' : asWritten(order.cause, hand, random),
    correction: asWritten(correction, hand, random),
  };
}

/** Writes one row; null where the export on the log's last day would not have held it yet. Returns its number. */
function writeRow(order: Order, texts: Words, how: { writing: Writing; daysLate: number }): string | null {
  const { of, random, written } = how.writing;
  const opened = (order.day + how.daysLate) * 86_400 + Math.floor(order.secondOfDay / 60) * 60;
  const closed = opened + Math.ceil(order.hours * 60) * 60;
  const lateDays = random.chance(0.08) ? random.integer(4, 40) : 0;
  const entered = closed + lateDays * 86_400 + random.integer(0, 1500) * 60;
  const end = (of.lastDay + 1) * 86_400;
  const noteOfEntry = random.chance(0.92);
  if ((noteOfEntry ? entered : closed) >= end) return null;
  const number = orderNumber(of.plan, order.day + how.daysLate, written.truth.length);
  written.lines.push(
    rowText(order, texts, { number, opened, closed, entered: noteOfEntry ? entered : null, of, random }),
  );
  return number;
}

type RowTimes = {
  number: string;
  opened: number;
  closed: number;
  entered: number | null;
  of: RecordsOf;
  random: Random;
};

function rowText(order: Order, texts: Words, row: RowTimes): string {
  const { plan } = row.of;
  const { random } = row;
  const age = order.day - plan.inServiceDay;
  const code = random.chance(0.12) ? '' : random.chance(0.04) ? '9999' : order.code;
  const instant = (second: number): string => instantText(Math.floor(second / 86_400), second % 86_400);
  return (
    [
      row.number,
      plan.unit,
      instant(row.opened),
      instant(row.closed),
      row.entered === null ? '' : instant(row.entered),
      plan.class.name === 'wheel loader' ? '' : Math.round(plan.class.kmPerDay * 0.8 * age + 300),
      random.chance(0.7) ? decimals(age * plan.class.workHours * 0.35 + 20, 1) : '',
      cell(texts.complaint),
      cell(texts.cause),
      cell(texts.correction),
      code,
      order.roadCall ? 1 : 0,
      decimals(order.parts, 2),
      decimals(order.laborHours, 2),
      decimals(order.laborHours * LABOR_RATE, 2),
      decimals(order.hours, 1),
      order.position !== '' && random.chance(0.65) ? order.position : '',
    ].join(',') + '\n'
  );
}

/** `W26123-0451`: year, day of the year, unit and a running letter's worth of figures; unique without a fleet-wide count. */
function orderNumber(plan: UnitPlan, day: number, sequence: number): string {
  const dayOfYear = Math.floor(yearFraction(day) * 365) + 1;
  return `W${dateFromDay(day).slice(2, 4)}${String(dayOfYear).padStart(3, '0')}-${String(plan.index).padStart(2, '0')}${String(sequence % 1000).padStart(3, '0')}`;
}
