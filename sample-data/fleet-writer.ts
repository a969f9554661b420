import { CRANK_COLUMNS } from './crank-rows.ts';
import { createCsvFile } from './csv-file.ts';
import type { CsvFile } from './csv-file.ts';
import { quarterOf } from './calendar.ts';
import type { LogSpan } from './fleet.ts';
import { COMPONENT_COLUMNS, UNIT_COLUMNS } from './registers.ts';
import type { SimulatedUnit } from './simulate-unit.ts';
import { TRUTH_COLUMNS } from './truth.ts';
import { WAVEFORM_COLUMNS } from './waveform-rows.ts';
import { WORK_ORDER_COLUMNS } from './work-orders.ts';

export type Written = {
  engines: number;
  cranks: number;
  waveforms: number;
  workOrders: number;
  batteryFailures: number;
  starterFailures: number;
  files: { name: string; rows: number }[];
};
export type FleetWriter = { take(unit: SimulatedUnit): Promise<void>; close(): Promise<Written> };

/** All files of a fleet, open side by side; each unit is appended to each. */
export async function createFleetWriter(of: {
  out: string;
  truth: string | null;
  span: LogSpan;
}): Promise<FleetWriter> {
  const files = openFiles(of);
  const truth = of.truth === null ? [] : openTruth(of.truth);
  const total: Written = {
    engines: 0,
    cranks: 0,
    waveforms: 0,
    workOrders: 0,
    batteryFailures: 0,
    starterFailures: 0,
    files: [],
  };
  return {
    take: async (unit) => {
      await writeUnit(files, unit);
      for (const [name, file] of truth) await writeLines(file, unit.truth[name]);
      count(total, unit);
    },
    close: async () => {
      const all = [files.units, files.components, files.orders, files.waveforms, ...files.quarters.values()];
      for (const file of [...all, ...truth.map(([, file]) => file)]) await file.close();
      return { ...total, files: all.map(({ name, rows }) => ({ name, rows })) };
    },
  };
}

type Files = {
  units: CsvFile;
  components: CsvFile;
  orders: CsvFile;
  waveforms: CsvFile;
  quarters: Map<string, CsvFile>;
};

function openFiles({ out, span }: { out: string; span: LogSpan }): Files {
  const quarters = new Map<string, CsvFile>();
  for (let day = span.firstDay; day <= span.lastDay; day += 1) {
    const quarter = quarterOf(day);
    if (!quarters.has(quarter)) quarters.set(quarter, createCsvFile(out, `cranks-${quarter}.csv.gz`, CRANK_COLUMNS));
  }
  return {
    units: createCsvFile(out, 'units.csv', UNIT_COLUMNS),
    components: createCsvFile(out, 'components.csv', COMPONENT_COLUMNS),
    orders: createCsvFile(out, 'work_orders.csv', WORK_ORDER_COLUMNS),
    waveforms: createCsvFile(out, 'waveforms.csv.gz', WAVEFORM_COLUMNS),
    quarters,
  };
}

type TruthKind = keyof typeof TRUTH_COLUMNS;

function openTruth(folder: string): [TruthKind, CsvFile][] {
  const kinds: readonly TruthKind[] = ['lives', 'states', 'hidden', 'work_orders'];
  return kinds.map((kind) => [kind, createCsvFile(folder, `true-${kind.replace('_', '-')}.csv`, TRUTH_COLUMNS[kind])]);
}

async function writeUnit(files: Files, unit: SimulatedUnit): Promise<void> {
  await files.units.write(unit.unitLine, 1);
  await writeLines(files.components, unit.componentLines);
  await writeLines(files.orders, unit.orderLines);
  await writeLines(files.waveforms, unit.log.samples);
  for (const [quarter, lines] of unit.log.quarters) {
    const file = files.quarters.get(quarter);
    if (file === undefined) throw new Error(`quarter requires an open file, got ${quarter} (fleet writer)`);
    await writeLines(file, lines);
  }
}

function writeLines(file: CsvFile, lines: readonly string[]): Promise<void> {
  return file.write(lines.join(''), lines.length);
}

function count(total: Written, unit: SimulatedUnit): void {
  total.engines += unit.engines;
  total.cranks += unit.log.cranks;
  total.waveforms += unit.log.waveforms;
  total.workOrders += unit.orderLines.length;
  for (const life of unit.lives) {
    if (life.end !== 'failure') continue;
    if (life.component === 'battery') total.batteryFailures += 1;
    else total.starterFailures += 1;
  }
}
