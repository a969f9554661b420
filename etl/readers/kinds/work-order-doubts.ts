import { createHash } from 'node:crypto';
import { dayOf, US_PER_DAY } from '../../model/time.ts';
import type { WorkOrder } from '../../model/work-order.ts';
import { AHEAD_US } from './column-limits.ts';

/** An order open for longer was closed late, or its year is mistyped. Convention of this program. */
const LONG_OPEN_US = 365 * US_PER_DAY;

/** Rows of one order stand near each other; further back is not looked. Program. */
const ORDERS_HELD = 10_000;

type Doubt = { holds: (order: WorkOrder, latestUs: number) => boolean; said: string };

/** What is likely mistyped, although the order is used as it stands, and what follows from that. */
const DOUBTS: readonly Doubt[] = [
  {
    holds: ({ openedUs }, latestUs) => openedUs > latestUs,
    said: 'opened on a day to come: counted from that day on',
  },
  {
    holds: ({ openedUs, closedUs, enteredUs }, latestUs) =>
      openedUs <= latestUs && Math.max(closedUs ?? 0, enteredUs ?? 0) > latestUs,
    said: 'closed or entered on a day to come: what was done counts from that day on',
  },
  {
    holds: ({ openedUs, closedUs }) => closedUs !== null && closedUs < openedUs - US_PER_DAY,
    said: 'closed before being opened: the work counts on the day of opening',
  },
  {
    holds: ({ openedUs, closedUs }, latestUs) =>
      closedUs !== null && closedUs > openedUs + LONG_OPEN_US && closedUs <= latestUs,
    said: 'open for over a year: what failed counts as gone since the opening, what was fitted since the closing',
  },
];

/**
 * What a person should look at in a file of work orders: days that cannot be right, and rows that bear the number and
 * unit of another row of the same file and say something else. Of those one counts; a file with a row a job needs a
 * number a job.
 */
export class WorkOrderDoubts {
  readonly #latestUs: number;
  readonly #found = DOUBTS.map(() => ({ rows: 0, first: '' }));
  /** By unit and number: the words themselves may be long. */
  readonly #words = new Map<string, string>();
  #again = { rows: 0, first: '' };

  constructor(nowUs = Infinity) {
    this.#latestUs = nowUs + AHEAD_US;
  }

  see(order: WorkOrder, line: number): void {
    DOUBTS.forEach(({ holds }, i) => {
      if (holds(order, this.#latestUs)) count(this.#found[i]!, order, line);
    });
    const key = `${order.unit}\u0000${order.workOrder}`;
    const words = hashOf(order);
    if ((this.#words.get(key) ?? words) !== words) count(this.#again, order, line);
    this.#words.set(key, words);
    if (this.#words.size > ORDERS_HELD) this.#words.delete(this.#words.keys().next().value!);
  }

  notes(): string[] {
    const doubts = DOUBTS.flatMap(({ said }, i) => told(this.#found[i]!, said));
    const again = told(
      this.#again,
      'with the number and unit of an earlier row and other words: one of them counts; a row a job needs a number a job',
    );
    return [...doubts, ...again];
  }
}

function hashOf({ complaint, cause, correction }: WorkOrder): string {
  return createHash('sha256')
    .update(JSON.stringify([complaint, cause, correction]))
    .digest('base64');
}

type Count = { rows: number; first: string };

function count(of: Count, { workOrder, unit, openedUs }: WorkOrder, line: number): void {
  if (of.rows++ === 0) of.first = `line ${line}: ${workOrder} of ${unit}, opened ${dayOf(openedUs)}`;
}

function told({ rows, first }: Count, said: string): string[] {
  return rows === 0 ? [] : [`${rows} work order${rows === 1 ? '' : 's'} ${said} (${first})`];
}
