import type { DailyMedians } from './trends/daily-medians.ts';

type Column = Int32Array | Uint8Array | Uint16Array | Float32Array;

/** A buffer that may grow is taken from the system page by page, and given back to it when it is done. */
const OwnPages = ArrayBuffer as new (bytes: number, options: { maxByteLength: number }) => ArrayBuffer;

/**
 * Daily medians of some engines laid side by side in one piece of memory, which goes from thread to thread as it lies.
 * Common memory, once freed, stays with the process: of ten thousand engines 300 MiB.
 */
export function packedDailies(dailies: readonly DailyMedians[]): DailyMedians[] {
  const bytes = dailies.flatMap(columnsOf).reduce((sum, column) => sum + placeOf(column), 0);
  const piece = new OwnPages(bytes, { maxByteLength: bytes });
  let used = 0;
  const copy = <Own extends Column>(column: Own): Own => {
    const Kind = column.constructor as new (buffer: ArrayBuffer, offset: number, length: number) => Own;
    const kept = new Kind(piece, used, column.length);
    kept.set(column);
    used += placeOf(column);
    return kept;
  };
  return dailies.map(({ values, day, stratum, cranks, dropouts, retries, tempC, restAtCrank }) => ({
    day: copy(day),
    stratum: copy(stratum),
    cranks: copy(cranks),
    dropouts: copy(dropouts),
    retries: copy(retries),
    tempC: copy(tempC),
    restAtCrank: copy(restAtCrank),
    values: Object.fromEntries(Object.entries(values).map(([name, column]) => [name, copy(column)])),
  }));
}

/** The piece of memory in which packed medians lie. */
export function pieceOf({ day }: DailyMedians): ArrayBuffer {
  return day.buffer as ArrayBuffer;
}

function columnsOf({ values, ...columns }: DailyMedians): Column[] {
  return [...Object.values(columns), ...Object.values(values)];
}

/** Every kind of column may begin at a multiple of eight. */
function placeOf({ byteLength }: Column): number {
  return Math.ceil(byteLength / 8) * 8;
}
