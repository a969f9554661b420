import { describe, expect, it } from 'vitest';
import { CommitGroup, IMPORTS_AT_ONCE } from '../../etl/store/commit-group.ts';
import { connect } from '../../etl/store/connection.ts';
import { freshStore } from '../support/open-stores.ts';

const fresh = freshStore();
const SMALL = { rows: 1, bytes: 10 };

/** A connection of its own with a table of numbers, which holds each once. */
function numbers() {
  const connection = connect(fresh.path('numbers.sqlite'), 'writer');
  connection.sqlite.exec('create table numbers (number integer primary key)');
  const add = connection.sqlite.prepare('insert into numbers values (?)');
  const all = connection.sqlite.prepare('select number from numbers order by number').pluck();
  return { connection, add: (number: number) => add.run(number), all: () => all.all() };
}

describe('imports that end together', () => {
  it('appear at one moment, each with its own answer', async () => {
    const { connection, add, all } = numbers();
    const group = new CommitGroup(connection);
    const seen: unknown[][] = [];
    const ends = [1, 2, 3].map(async (number) => group.commit(SMALL, () => (add(number), number * 10)));
    seen.push(all());
    expect(await Promise.all(ends)).toEqual([10, 20, 30]);
    seen.push(all());
    expect(seen).toEqual([[], [1, 2, 3]]);
    connection.sqlite.close();
  });

  it('of which one fails are there but for that one, and nothing of it is', async () => {
    const { connection, add, all } = numbers();
    const group = new CommitGroup(connection);
    await group.commit(SMALL, () => add(1));
    const refused = group.commit(SMALL, () => [add(3), add(1)]);
    const taken = group.commit(SMALL, () => add(4));
    await expect(refused).rejects.toThrow('UNIQUE constraint failed: numbers.number');
    await taken;
    expect(all()).toEqual([1, 4]);
    connection.sqlite.close();
  });

  it('fail together where the transaction itself fails', async () => {
    const { connection, add, all } = numbers();
    const group = new CommitGroup(connection);
    const breaking = () => {
      connection.sqlite.exec('rollback');
      throw new Error('disk full');
    };
    const ends = await Promise.allSettled([group.commit(SMALL, () => add(1)), group.commit(SMALL, breaking)]);
    expect(ends.map((end) => (end.status === 'rejected' ? String(end.reason) : end.status))).toEqual([
      'Error: disk full',
      'Error: disk full',
    ]);
    expect(all()).toEqual([]);
    connection.sqlite.close();
  });

  it('are written at once when there are enough of them', async () => {
    const { connection, add, all } = numbers();
    const group = new CommitGroup(connection);
    const ends = Array.from({ length: IMPORTS_AT_ONCE }, async (_, number) => group.commit(SMALL, () => add(number)));
    await new Promise((resolve) => setImmediate(resolve));
    expect(all()).toHaveLength(IMPORTS_AT_ONCE);
    await Promise.all(ends);
    connection.sqlite.close();
  });
});
