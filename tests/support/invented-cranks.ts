import { emptyTable, FINISHED_COLUMNS, type FinishedTable } from '../../etl/model/crank.ts';
import { dateUs } from '../../etl/model/time.ts';
import { PATTERNS, SOURCES } from '../../etl/model/words.ts';
import { createRandom } from '../../etl/stats/random.ts';

export type InventedEngine = {
  seed: number;
  fromOn: string;
  days: number;
  cranksPerDay?: number;
  /** Season: temperature = 10 + swing · cos(year). */
  swingC?: number;
  /** log sag ratio at 15 °C on day d. */
  logSag?: (day: number) => number;
  crankVolts?: (day: number) => number;
  rpm?: (day: number) => number;
  noise?: number;
  withTemperature?: boolean;
  rateHz?: (day: number) => number;
  /** What a logger of this rate reads too low. */
  sagOffset?: (day: number) => number;
};

/** Finished cranks of one engine with known truth; shares nothing with the analysis but the table's shape. */
export function inventedCranks(engine: InventedEngine): FinishedTable {
  const random = createRandom(engine.seed, 'cranks');
  const perDay = engine.cranksPerDay ?? 3;
  const table = emptyTable(FINISHED_COLUMNS, engine.days * perDay);
  const noise = engine.noise ?? 0.03;
  let row = 0;
  for (let day = 0; day < engine.days; day++) {
    const warm = (engine.swingC ?? 12) * Math.cos((2 * Math.PI * (day - 20)) / 365.25);
    const tempC = 10 - warm + 2 * random.normal();
    for (let k = 0; k < perDay; k++) {
      const { columns } = table;
      const logSag =
        (engine.logSag?.(day) ?? -0.4) -
        0.016 * (tempC - 15) +
        (engine.sagOffset?.(day) ?? 0) +
        noise * random.normal();
      columns.timeUs[row] = dateUs(engine.fromOn) + (day * 86_400 + (6 + 5 * k) * 3600) * 1e6;
      columns.startUs[row] = columns.timeUs[row]!;
      columns.source[row] = SOURCES.indexOf('waveform');
      columns.pattern[row] = PATTERNS.indexOf('steady');
      columns.quality[row] = 0;
      columns.restVolts[row] = 12.7 + 0.02 * random.normal();
      columns.sagRatio[row] = Math.exp(logSag);
      columns.dipVolts[row] = columns.restVolts[row]! / (1 + columns.sagRatio[row]!);
      columns.crankVolts[row] = (engine.crankVolts?.(day) ?? 10.4) + 0.02 * (tempC - 15) + noise * random.normal();
      columns.crankRpm[row] = (engine.rpm?.(day) ?? 190) + 1.2 * (tempC - 15) + 40 * noise * random.normal();
      columns.crankSeconds[row] = 0.8 + 0.1 * Math.abs(random.normal());
      columns.dropouts[row] = 0;
      columns.rateHz[row] = engine.rateHz?.(day) ?? 100;
      if (engine.withTemperature !== false) columns.tempC[row] = tempC;
      row++;
    }
  }
  return table;
}
