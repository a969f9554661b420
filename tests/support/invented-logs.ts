import { createWriteStream } from 'node:fs';
import { once } from 'node:events';

/** Voltage logs of 1 kHz for measuring speed: invented, the same in every run. */
const RATE_HZ = 1000;
const BEGIN_MS = Date.UTC(2024, 0, 1);
const CRANK_SECONDS = 1;
export const LOG_HEADER = 'unit,time,volts,amps\n';

type Shape = { restSeconds: number; seconds: number; dipVolts: number };

/** Volts and amps of one crank as text: rest, inrush to the dip, rolling with ripple, then charging. */
function shapeText({ restSeconds, seconds, dipVolts }: Shape): string[] {
  return Array.from({ length: seconds * RATE_HZ }, (_, index) => {
    const after = index / RATE_HZ - restSeconds;
    const noise = 0.006 * Math.sin(index * 1.7) + 0.005 * Math.sin(index * 0.31);
    const amps = after < 0 || after >= CRANK_SECONDS ? 6 : 160 + 500 * Math.exp(-after / 0.06);
    return `${(voltsAt(after, dipVolts) + noise).toFixed(3)},${amps.toFixed(1)}`;
  });
}

function voltsAt(after: number, dipVolts: number): number {
  if (after < 0) return 12.6;
  if (after >= CRANK_SECONDS) return 14.1 - 1.2 * Math.exp(-(after - CRANK_SECONDS) / 0.8);
  const rolling = 10.4 + 0.25 * Math.sin(2 * Math.PI * 7 * after);
  return rolling - (10.4 - dipVolts) * Math.exp(-after / 0.06);
}

export type LogPlan = {
  megabytes: number;
  units: number;
  /** Number of the first unit; 0 if absent. */
  firstUnit?: number;
  /** Of each crank's record. */
  shape: Omit<Shape, 'dipVolts'>;
  /** From the end of one record to the beginning of the next; 0 makes one long record of a unit. */
  betweenSeconds: number;
  /** `in_turn`: record by record; `one_by_one`: the whole of one unit, then the next. */
  order: 'in_turn' | 'one_by_one';
};

/** Writes records until the file is as large as asked for. Returns rows and cranks. */
export async function writeLog(path: string, plan: LogPlan): Promise<{ rows: number; cranks: number }> {
  const { units, firstUnit = 0, shape, betweenSeconds, order } = plan;
  const shapes = [8.1, 7.6, 8.6, 7.9].map((dipVolts) => shapeText({ ...shape, dipVolts }));
  const recordBytes = shapes[0]!.length * (shapes[0]![0]!.length + 'UNIT-1000,2024-01-01T00:00:00.000Z,\n'.length);
  const records = Math.max(1, Math.floor((plan.megabytes * 1e6) / recordBytes));
  const perUnit = Math.ceil(records / units);
  const file = createWriteStream(path);
  file.write(LOG_HEADER);
  for (let record = 0; record < records; record++) {
    const [unit, turn] =
      order === 'in_turn'
        ? [record % units, Math.floor(record / units)]
        : [Math.floor(record / perUnit), record % perUnit];
    const fromMs = BEGIN_MS + turn * (shape.seconds + betweenSeconds) * 1000;
    const name = `UNIT-${1000 + firstUnit + unit}`;
    const text = shapes[record % shapes.length]!;
    const rows = text.map((values, index) => `${name},${new Date(fromMs + index).toISOString()},${values}\n`);
    if (!file.write(rows.join(''))) await once(file, 'drain');
  }
  file.end();
  await once(file, 'finish');
  return { rows: records * shapes[0]!.length, cranks: records };
}
