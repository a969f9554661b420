import Database from 'better-sqlite3';
import { FINISHED_COLUMNS } from '../../etl/model/crank.ts';
import { US_PER_DAY } from '../../etl/model/time.ts';

type Block = { engine_id: number; mark: number | null; layout: string; count: number; columns: Buffer };
const DAY_COLUMN = FINISHED_COLUMNS.indexOf('timeUs');

/**
 * Makes a loaded store into one of many times as many units: every unit stands under further names, with its records,
 * parts and finished cranks, of which one a day is kept: what a gateway that sends one row a day would have left.
 */
export function multiplyStore(path: string, copies: number): void {
  const db = new Database(path);
  db.pragma('synchronous = OFF');
  const engines = db.prepare('select engine_id, unit, position from engines').all() as EngineRow[];
  const blocks = new Map<number, Block>();
  for (const block of db.prepare('select * from crank_blocks').all() as Block[])
    blocks.set(block.engine_id, onceADay(block));
  const put = db.prepare(
    'insert or replace into crank_blocks (engine_id, mark, layout, count, columns) values (?,?,?,?,?)',
  );
  const putBlock = (id: number | bigint, { mark, layout, count, columns }: Block) =>
    put.run(id, mark, layout, count, columns);
  db.transaction(() => blocks.forEach((block, id) => putBlock(id, block)))();
  for (let copy = 1; copy < copies; copy++)
    db.transaction(() => {
      const suffix = `~${String(copy).padStart(3, '0')}`;
      for (const table of ['unit_rows', 'part_rows', 'work_order_rows']) copyRows(db, table, suffix);
      for (const { engine_id, unit, position } of engines) {
        const made = db.prepare('insert into engines (unit, position) values (?, ?)').run(unit + suffix, position);
        putBlock(made.lastInsertRowid, blocks.get(engine_id)!);
        const imports = 'select import_id, ?, rows from import_engines where engine_id = ?';
        db.prepare(`insert into import_engines (import_id, engine_id, rows) ${imports}`).run(
          made.lastInsertRowid,
          engine_id,
        );
      }
    })();
  db.close();
}

type EngineRow = { engine_id: number; unit: string; position: string };

function copyRows(db: Database.Database, table: string, suffix: string): void {
  const columns = (db.pragma(`table_info(${table})`) as { name: string }[]).map(({ name }) => name);
  const values = columns.map((name) => (name === 'unit' ? 'unit || ?' : name));
  const own = `select ${values.join()} from ${table} where instr(unit, '~') = 0`;
  db.prepare(`insert into ${table} (${columns.join()}) ${own}`).run(suffix);
}

function onceADay(block: Block): Block {
  const { count } = block;
  const values = new Float64Array(new Uint8Array(block.columns).buffer);
  const dayOf = (row: number) => Math.floor(values[DAY_COLUMN * count + row]! / US_PER_DAY);
  const rows = Array.from({ length: count }, (_, row) => row).filter(
    (row) => row === 0 || dayOf(row) !== dayOf(row - 1),
  );
  const kept = Float64Array.from(FINISHED_COLUMNS.flatMap((_, at) => rows.map((row) => values[at * count + row]!)));
  return { ...block, count: rows.length, columns: Buffer.from(kept.buffer) };
}
