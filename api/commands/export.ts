import { Argument, Option } from 'commander';
import { createReadStream, createWriteStream, statSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { assessAndRank, newestDay } from '../assess-and-rank.ts';
import { csvBlocks } from '../export/csv-writer.ts';
import type { Cells, ExportTable } from '../export/export-table.ts';
import { EXPORTS } from '../export/exports.ts';
import { ndjsonBlocks } from '../export/ndjson-writer.ts';
import { isOutdated } from '../views/assessed-day.ts';
import { asOf, type AsOf } from '../../etl/model/time.ts';
import type { Settings } from '../../etl/model/settings.ts';
import type { Store } from '../../etl/store/store.ts';
import {
  answer,
  command,
  jsonLine,
  withStore,
  type AddCommand,
  type CommandContext,
  type CommonOptions,
} from './command.ts';
import { counted } from '../../etl/model/counted.ts';
import { notYet } from './not-yet.ts';

const FORMATS = ['csv', 'ndjson', 'arrow', 'parquet'] as const;
type Format = (typeof FORMATS)[number];
type Options = CommonOptions & { asOf?: string; format?: Format; out?: string };
type Blocks = AsyncIterable<string | Uint8Array>;

/** `export WHAT`: one of the tables, in one of the formats, to stdout or a file. */
export const addExport: AddCommand = (program, context) => {
  const about = EXPORTS.map(({ name, about }) => `${name}: ${about}`).join('\n');
  const exporting = command('export', 'write a table', [
    'crankledger export ranking',
    'crankledger export cranks --format parquet --out cranks.parquet',
    'crankledger export outlook --as-of 2026-03-01 > outlook.csv',
  ]);
  exporting
    .addArgument(new Argument('<what>', about).argParser(tableNamed))
    .option('--as-of <date>', 'as known at the end of that day (default: the newest assessed date)')
    .addOption(
      new Option('--format <format>', 'how to write it (default: csv, with --json ndjson)').choices([...FORMATS]),
    )
    .option('--out <file>', 'where to write it (default: stdout)');
  exporting.action(async (table: ExportTable, options: Options) => {
    const what = table.name;
    if (options.out !== undefined && statSync(options.out, { throwIfNoEntry: false })?.isDirectory() === true)
      throw new RangeError(`--out requires a file, got a folder (${options.out})`);
    const format = options.format ?? (options.json === true && options.out === undefined ? 'ndjson' : 'csv');
    const binary = format === 'arrow' || format === 'parquet';
    if (binary && options.out === undefined && context.console.isTerminal)
      throw new RangeError(`export requires --out for a format that is not text, got none (--format ${format})`);
    const { rows, path } = await withStore(options, context, async (store) => ({
      rows: await exported(store, table, { options, format, context }),
      path: store.path,
    }));
    if (options.out !== undefined)
      await answer(options, context, {
        value: { table: what, rows, file: options.out },
        words: `${counted(rows, 'row')} in ${options.out}\n`,
      });
    if (rows > 0) return;
    context.console.note(`nothing to export: ${what} has no rows (${path})`);
    context.doneInPart();
  });
  program.addCommand(exporting);
};

function tableNamed(what: string): ExportTable {
  if (what === 'plan') throw notYet('plan', 'export plan');
  const table = EXPORTS.find(({ name }) => name === what);
  if (table !== undefined) return table;
  throw new RangeError(`export requires one of ${EXPORTS.map(({ name }) => name).join(', ')}, got ${what} (<what>)`);
}

type Writing = { options: Options; format: Format; context: CommandContext };

/** How many rows went out; with `--json` alone what sums the table up, if anything does, and then as one row. */
async function exported(store: Store, table: ExportTable, writing: Writing): Promise<number> {
  const { json, format, out } = writing.options;
  if (json !== true || format !== undefined || out !== undefined || table.summary === undefined)
    return writeTable(store, table, writing);
  const summary = await table.summary(store);
  if (summary === null) return 0;
  await writing.context.console.result(jsonLine(summary));
  return 1;
}

async function writeTable(store: Store, table: ExportTable, { options, format, context }: Writing): Promise<number> {
  const settings = await store.settings();
  const rows = (await store.imports()).length === 0 ? [] : await rowsOf(store, table, { options, context, settings });
  let count = 0;
  const countedRows = async function* (): AsyncGenerator<Cells> {
    for await (const cells of rows) {
      count++;
      yield cells;
    }
  };
  const { columns } = table;
  const { currency } = settings;
  const write = (blocks: Blocks) => send(blocks, options.out, context);
  if (format === 'csv') await write(csvBlocks(columns, countedRows(), { currency }));
  else if (format === 'ndjson') await write(ndjsonBlocks(columns, countedRows(), currency));
  else if (format === 'arrow') {
    const { arrowBlocks } = await import('../export/arrow-writer.ts');
    await write(arrowBlocks(columns, countedRows(), currency));
  } else {
    const { withParquet } = await import('../export/parquet-writer.ts');
    await withParquet({ columns, rows: countedRows(), currency }, (file) => write(createReadStream(file)));
  }
  return count;
}

type Asked = Pick<Writing, 'options' | 'context'> & { settings: Settings };

async function rowsOf(store: Store, table: ExportTable, { options, context, settings }: Asked) {
  const nowUs = context.now() * 1000;
  const day = await exportDay(store, table, { asOfText: options.asOf, context, nowUs });
  const newest = (await store.assessments())[0]?.asOf.label === day.label;
  return table.rows({ store, asOf: day, settings, decidedUs: newest ? nowUs : day.us });
}

/** The date asked for, computed first where it was not assessed; else the newest assessed one. */
async function exportDay(
  store: Store,
  table: ExportTable,
  { asOfText, context, nowUs }: { asOfText: string | undefined; context: CommandContext; nowUs: number },
): Promise<AsOf> {
  const heads = await store.assessments();
  const inputs = await store.inputsVersion();
  const { timeZone } = await store.settings();
  const newest = heads[0];
  if (asOfText === undefined && newest !== undefined) {
    const what = newest.inputs === inputs ? 'the time zone was changed' : 'data were loaded';
    if (isOutdated(newest, inputs, timeZone))
      context.console.note(`${what} after the assessment of ${newest.asOf.label}: run assess for newer results`);
    return newest.asOf;
  }
  if (asOfText === undefined && !table.assessed && (await store.newestKnownUs(Infinity)) === null)
    return { us: nowUs, label: '', on: '' };
  const day = asOfText === undefined ? await newestDay(store, nowUs) : asOf(asOfText, timeZone);
  const known = heads.find((head) => head.asOf.label === day.label && !isOutdated(head, inputs, timeZone));
  if (!table.assessed || known !== undefined) return day;
  const progress = context.console.progress(`assessing ${day.label}`);
  try {
    await assessAndRank(store, day, { nowUs, onProgress: (done, total) => progress.at(done, total) });
  } finally {
    progress.end();
  }
  return day;
}

/** To stdout, or to a file that appears only when it is whole. */
async function send(blocks: Blocks, out: string | undefined, { console }: CommandContext): Promise<void> {
  if (out === undefined) {
    for await (const block of blocks) await console.result(block);
    return;
  }
  const partial = `${out}.partial`;
  try {
    await pipeline(Readable.from(blocks), createWriteStream(partial));
    await rename(partial, out);
  } catch (error) {
    await rm(partial, { force: true });
    throw outError(error, out);
  }
}

/** About the file that was asked for, not the one that was written on the way. */
function outError(error: unknown, out: string): unknown {
  if ((error as NodeJS.ErrnoException).code === 'ENOENT')
    return new RangeError(`--out requires a folder that exists, got none (${dirname(out)})`);
  return error;
}
