/** The ranking's CSV cut down to the rows that are seen: the server makes the whole, the page knows what it shows. */
import type { RankingRow } from '../../api/contract/ranking.ts';

/** A record may hold line ends inside quotes. */
const RECORD = /(?:[^"\r\n]|"(?:[^"]|"")*")+/g;

/** The head and the records of these rows, in their order. `rank` is unique, and no field before it is ever quoted. */
export function csvOfRows(csv: string, rows: readonly Pick<RankingRow, 'rank'>[]): string {
  const [head = '', ...records] = csv.match(RECORD) ?? [];
  const column = head.split(',').indexOf('rank');
  const byRank = new Map(records.map((record) => [Number(record.split(',')[column]), record]));
  const kept = rows.flatMap(({ rank }) => byRank.get(rank) ?? []);
  return [head, ...kept, ''].join('\r\n');
}
