import { capacity, resistanceFactor } from './battery-ageing.ts';
import { dateFromDay } from './calendar.ts';
import { cell } from './csv-file.ts';
import type { EngineState } from './engine-state.ts';
import type { TrueLife } from './life-ledger.ts';
import type { TrueOrder } from './work-orders.ts';

/** What the analysis must never see: written only where asked for, outside the fleet's folder. */
export const TRUTH_COLUMNS = {
  lives: ['unit', 'position', 'component', 'fitted', 'removed', 'end', 'failed', 'cause', 'recorded'],
  states: [
    'unit',
    'position',
    'date',
    'battery_capacity',
    'battery_resistance',
    'battery_charge',
    'brush_length',
    'contact_erosion',
    'corrosion',
  ],
  hidden: ['unit', 'position', 'date', 'what'],
  work_orders: ['work_order', 'unit', 'position', 'repair', 'legible', 'duplicate_of'],
} as const;

export type HiddenNote = { position: string; day: number; what: string };

function line(cells: readonly (string | number)[]): string {
  return `${cells.map((value) => cell(String(value))).join(',')}\n`;
}

function dateOrEmpty(day: number | null): string {
  return day === null ? '' : dateFromDay(day);
}

export function lifeLine(unit: string, life: TrueLife): string {
  const { position, component, end, cause } = life;
  const dates = [dateFromDay(life.fittedDay), dateOrEmpty(life.removedDay)];
  return line([unit, position, component, ...dates, end, dateOrEmpty(life.failedDay), cause, life.recorded ? 1 : 0]);
}

export function stateLine(unit: string, day: number, state: EngineState): string {
  const { battery, starter } = state;
  const figures = [
    capacity(battery),
    resistanceFactor(battery),
    battery.charge,
    starter.brush,
    starter.erosion,
    state.corrosion,
  ];
  return line([unit, state.position, dateFromDay(day), ...figures.map((value) => value.toFixed(3))]);
}

export function hiddenLine(unit: string, note: HiddenNote): string {
  return line([unit, note.position, dateFromDay(note.day), note.what]);
}

export function orderLine(unit: string, order: TrueOrder): string {
  return line([order.workOrder, unit, order.position, order.repair, order.legible ? 1 : 0, order.duplicateOf]);
}
