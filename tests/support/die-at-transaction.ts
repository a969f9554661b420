import Database from 'better-sqlite3';

/**
 * Imported before a program (`node --import`) that opens a store: it is killed for real at the transaction of that
 * number, before its work or with the work done and not yet committed. Without a number it says at its end, as the last
 * line of the error channel, how many there were.
 */
const at = Number(process.env['DIE_AT_TRANSACTION'] ?? Number.NaN);
const withWorkDone = process.env['DIE_WITH_WORK_DONE'] === 'yes';
let transactions = 0;

const { prototype } = Database as unknown as { prototype: Database.Database };
const begin = Reflect.get(prototype, 'transaction') as (this: Database.Database, work: Work) => Work;
type Work = (...given: unknown[]) => unknown;

function die(): void {
  process.kill(process.pid, 'SIGKILL');
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0); // not one step further
}

Reflect.set(prototype, 'transaction', function (this: Database.Database, work: Work) {
  return begin.call(this, (...given) => {
    const dies = ++transactions === at;
    if (dies && !withWorkDone) die();
    const result = work(...given);
    if (dies) die();
    return result;
  });
});
process.on('exit', () => {
  if (Number.isNaN(at)) process.stderr.write(`\n${transactions}\n`);
});
