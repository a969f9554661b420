import { finishStale } from '../../etl/loading/finish-stale.ts';
import type { CrankRow } from '../contract/crank.ts';
import { crankRows } from '../views/crank-view.ts';
import { columns, compareKeys, type Cells, type ExportTable } from './export-table.ts';

/** Contract order; what was added since stands last, so that the columns of old readers stay where they were. */
export const CRANK_COLUMNS = [
  ...columns('text', 'unit'),
  ...columns('instant', 'time'),
  ...columns('text', 'source'),
  ...columns('number', 'rest_volts', 'dip_volts', 'crank_volts', 'charge_volts', 'crank_seconds', 'crank_rpm'),
  ...columns('number', 'ripple_hz', 'sag_ratio', 'amps_peak', 'temp_c'),
  ...columns('integer', 'dropouts'),
  ...columns('number', 'dropout_seconds'),
  ...columns('text', 'pattern', 'suspect', 'outcome', 'start_id', 'quality', 'file'),
  ...columns('integer', 'line'),
  ...columns('text', 'position'),
  ...columns('number', 'relative_compression'),
];

export function crankCells(row: CrankRow): Cells {
  return [
    row.unit,
    row.timeUs,
    row.source,
    row.restVolts,
    row.dipVolts,
    row.crankVolts,
    row.chargeVolts,
    row.crankSeconds,
    row.crankRpm,
    row.rippleHz,
    row.sagRatio,
    row.ampsPeak,
    row.tempC,
    row.dropouts,
    row.dropoutSeconds,
    row.pattern,
    row.suspect,
    row.outcome,
    row.startId,
    row.quality,
    row.file,
    row.line,
    row.position,
    row.relativeCompression,
  ];
}

/** Every crank of the fleet up to the as-of instant, engine by engine. */
export const CRANK_EXPORT: ExportTable = {
  name: 'cranks',
  about: 'every crank with its features',
  columns: CRANK_COLUMNS,
  assessed: false,
  async *rows({ store, asOf }) {
    // A load may have been killed before it.
    await finishStale(store);
    const fileOf = new Map((await store.imports()).map(({ importId, file }) => [importId, file]));
    const engines = (await store.engines()).toSorted((a, b) => compareKeys([a.unit, a.position], [b.unit, b.position]));
    for (const engine of engines) {
      const table = await store.finished(engine);
      if (table === null) continue;
      for (const row of crankRows(engine, table, { fromUs: -Infinity, toUs: asOf.us, fileOf })) yield crankCells(row);
    }
  },
};
