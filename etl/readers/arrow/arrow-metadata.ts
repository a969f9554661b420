/**
 * Whether the metadata of an Arrow message hold together (format/Message.fbs, format/Schema.fbs). The Arrow library
 * believes every count and place in them: a damaged one makes it read for minutes, and fill memory with what is not there.
 */
const TABLE_BYTES = 4;
/** FieldNode and Buffer: two integers of eight bytes. */
const STRUCT_BYTES = 16;
/** Fields within fields, counted together. Program. */
const MOST_FIELDS = 10_000;
const HEADER = { schema: 1, dictionary: 2, batch: 3 } as const;

/** What is wrong, in the words of an error's `got`; null where nothing is. */
export function metadataFault(metadata: Uint8Array, bodyLength: number): string | null {
  try {
    const tables = new Tables(metadata);
    const message = tables.at(0);
    const type = tables.byte(message, 1);
    const header = tables.table(message, 2);
    if (header === null) return 'a message without a header';
    if (type === HEADER.schema) return schemaFault(tables, header);
    const batch = type === HEADER.dictionary ? tables.table(header, 1) : header;
    if (type !== HEADER.dictionary && type !== HEADER.batch) return null;
    return batch === null ? 'a dictionary without values' : batchFault(tables, batch, bodyLength);
  } catch (error) {
    if (error instanceof RangeError) return 'places that lie outside of it';
    throw error;
  }
}

function schemaFault(tables: Tables, schema: number): string | null {
  const waiting = tables.tables(schema, 1);
  tables.tables(schema, 2);
  for (let seen = 0; waiting.length > 0; seen++) {
    if (seen > MOST_FIELDS) return `more than ${MOST_FIELDS} fields`;
    const field = waiting.pop()!;
    for (const pair of tables.tables(field, 6)) tables.at(pair);
    waiting.push(...tables.tables(field, 5));
    if (waiting.length > MOST_FIELDS) return `more than ${MOST_FIELDS} fields`;
  }
  return null;
}

function batchFault(tables: Tables, batch: number, bodyLength: number): string | null {
  const rows = tables.long(batch, 0);
  const nodes = tables.structs(batch, 1);
  const buffers = tables.structs(batch, 2);
  // A packed byte stands for 255 at most (LZ4); what really comes out is compared with the rows later.
  const compressed = tables.table(batch, 3) !== null;
  const most = (compressed ? 255 : 1) * 8 * bodyLength;
  if (rows < 0 || rows > most) return `${rows} rows in ${bodyLength} bytes`;
  for (const [length, nulls] of nodes)
    if (length < 0 || nulls < 0 || length > most || nulls > length)
      return `a column of ${length} rows, ${nulls} missing`;
  for (const [offset, length] of buffers)
    if (offset < 0 || length < 0 || offset + length > bodyLength) return 'buffers that lie outside of it';
  return null;
}

/** Flatbuffers: tables point back to a list of where each field stands, other values are pointed to from their place. */
class Tables {
  readonly #view: DataView;

  constructor(bytes: Uint8Array) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  /** Where the value at `place` points. */
  at(place: number): number {
    return place + this.#view.getUint32(place, true);
  }

  byte(table: number, field: number): number {
    const place = this.#place(table, field);
    return place === null ? 0 : this.#view.getUint8(place);
  }

  long(table: number, field: number): number {
    const place = this.#place(table, field);
    return place === null ? 0 : this.#long(place);
  }

  table(table: number, field: number): number | null {
    const place = this.#place(table, field);
    return place === null ? null : this.at(place);
  }

  /** Tables of a vector. */
  tables(table: number, field: number): number[] {
    const { first, count } = this.#vector(table, field, TABLE_BYTES);
    return Array.from({ length: count }, (_, index) => this.at(first + TABLE_BYTES * index));
  }

  /** Structs of two integers. */
  structs(table: number, field: number): [number, number][] {
    const { first, count } = this.#vector(table, field, STRUCT_BYTES);
    return Array.from({ length: count }, (_, index) => {
      const place = first + STRUCT_BYTES * index;
      return [this.#long(place), this.#long(place + 8)];
    });
  }

  #vector(table: number, field: number, bytesEach: number): { first: number; count: number } {
    const place = this.#place(table, field);
    if (place === null) return { first: 0, count: 0 };
    const vector = this.at(place);
    const count = this.#view.getUint32(vector, true);
    const first = vector + 4;
    if (first + count * bytesEach > this.#view.byteLength) throw new RangeError('vector beyond the end');
    return { first, count };
  }

  #long(place: number): number {
    return Number(this.#view.getBigInt64(place, true));
  }

  #place(table: number, field: number): number | null {
    const slots = table - this.#view.getInt32(table, true);
    const slot = 4 + 2 * field;
    const offset = this.#view.getUint16(slots, true) > slot ? this.#view.getUint16(slots + slot, true) : 0;
    return offset === 0 ? null : table + offset;
  }
}
