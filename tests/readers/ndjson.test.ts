import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keysOf, ndjsonTable } from '../../etl/readers/ndjson/ndjson-table.ts';
import { waveformCsv } from '../../etl/readers/kinds/waveform-csv.ts';
import { collectFile } from '../support/collected-file.ts';
import { collect, cutAt } from '../support/collected-rows.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'ndjson-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

async function read(content: string | Uint8Array) {
  const path = join(folder, 'rows.ndjson');
  await writeFile(path, content);
  return collectFile(path);
}

const lines = (...objects: unknown[]) => objects.map((object) => `${JSON.stringify(object)}\n`).join('');
const ISO = '2024-03-01T06:00:00.125Z';
const US = Date.parse(ISO) * 1000;
const SAMPLE = { unit: 'T-1', time: ISO, volts: 12.5 };

describe('one JSON object a line', () => {
  it('whose volts are a list a capture is refused by naming the list, not only as lacking volts', async () => {
    await expect(read(lines({ unit: 'T-1', time: ISO, rate: 100, volts: [12.5, 12.4] }))).rejects.toThrow(
      'nearest is waveform, which also needs volts; lists and structures are not read (volts): write one sample a line',
    );
  });

  it('is read by the names of its keys; a key that comes late is a column of the whole file', async () => {
    const all = await read(
      lines(
        { ...SAMPLE, GPS: [1] },
        { ' Volts': '12.25', time: US / 1000, unit: 14 },
        { ...SAMPLE, amps: 400, mood: 'good' },
      ),
    );
    expect(all.reader).toBe('waveform-ndjson');
    expect(all.report).toEqual({ kind: 'waveform', taken: 3, setAside: 0, unknownColumns: ['mood', 'gps'], notes: [] });
    expect(all.samples).toEqual([
      { unit: 'T-1', timeUs: US, volts: 12.5, amps: Number.NaN, line: 1 },
      { unit: '14', timeUs: US, volts: 12.25, amps: Number.NaN, line: 2 },
      { unit: 'T-1', timeUs: US, volts: 12.5, amps: 400, line: 3 },
    ]);
    expect(all.hash).toMatch(/^[0-9a-f]{64}$/);
  });

  it('byte-order mark, blank lines, CRLF, blanks before the first brace, no line end at the end, gzip', async () => {
    const one = JSON.stringify(SAMPLE);
    const text = `\uFEFF  ${one}\r\n\r\n   \n${one}`;
    for (const content of [text, gzipSync(text)])
      expect((await read(content)).samples.map(({ line }) => line)).toEqual([1, 4]);
  });

  it('a line that holds no object is set aside with its number, and so is one that cannot be text', async () => {
    const good = JSON.stringify(SAMPLE);
    const bad = Buffer.concat([
      Buffer.from(`${good}\n{"unit":"T-1",\n[1]\n"x"\nnull\n`),
      Buffer.from([0x7b, 0x22, 0xff, 0x22, 0x7d, 0x0a]),
      Buffer.from(`${good}\n`),
    ]);
    const { report, samples, setAside } = await read(bad);
    expect([report.taken, report.setAside, samples.map(({ line }) => line)]).toEqual([2, 5, [1, 7]]);
    const reason = 'line requires a JSON object';
    expect(setAside).toEqual([
      { line: 2, field: '', value: '{"unit":"T-1",', reason },
      { line: 3, field: '', value: '[1]', reason },
      { line: 4, field: '', value: '"x"', reason },
      { line: 5, field: '', value: 'null', reason },
      { line: 6, field: '', value: '{"\uFFFD"}', reason: 'line requires text in UTF-8' },
    ]);
  });

  it('a value that cannot be read sets its row aside with field, value and reason', async () => {
    const { report, setAside } = await read(
      lines(
        SAMPLE,
        { ...SAMPLE, volts: null },
        { ...SAMPLE, volts: 'low' },
        { ...SAMPLE, volts: [12] },
        { ...SAMPLE, time: '2024-03-01T06:00:00' },
        { ...SAMPLE, unit: { id: 7 } },
        { time: ISO, volts: 12 },
        { ...SAMPLE, volts: 1e9 },
      ) + `{"unit":12345678901234567890,"time":"${ISO}","volts":12}\n`,
    );
    expect([report.taken, report.setAside]).toEqual([1, 8]);
    expect(setAside).toEqual([
      { line: 2, field: 'volts', value: '', reason: 'volts requires a number' },
      { line: 3, field: 'volts', value: 'low', reason: 'volts requires a number' },
      { line: 4, field: 'volts', value: '[12]', reason: 'volts requires a single value' },
      {
        line: 5,
        field: 'time',
        value: '2024-03-01T06:00:00',
        reason: 'time requires a zone (Z or an offset such as +01:00): give time.zone in a profile',
      },
      { line: 6, field: 'unit', value: '{"id":7}', reason: 'unit requires a single value' },
      { line: 7, field: 'unit', value: '', reason: 'unit requires a name' },
      { line: 8, field: 'volts', value: '1000000000', reason: 'volts requires a value from -5 to 65 V' },
      {
        line: 9,
        field: 'unit',
        value: '12345678901234567000',
        reason: 'unit requires quotes around a number this long',
      },
    ]);
  });

  it('a line without end is set aside whole, in bounded memory', async () => {
    async function* stream() {
      yield Buffer.from(`${JSON.stringify(SAMPLE)}\n{"unit":"`);
      for (let mebibytes = 0; mebibytes < 64; mebibytes += 1) yield Buffer.alloc(1 << 20, 'x');
      yield Buffer.from(`"}\n${JSON.stringify(SAMPLE)}\n`);
    }
    const table = ndjsonTable(stream(), await keysOf(stream()));
    const { report, setAside, samples } = await collect(
      { read: async (_, sink) => waveformCsv.readTable(table, sink) },
      stream(),
    );
    expect([report.taken, report.setAside]).toEqual([2, 1]);
    expect(setAside[0]).toMatchObject({ line: 2, reason: 'line requires at most 1 MiB' });
    expect(setAside[0]!.value.length).toBeLessThanOrEqual(201);
    expect(samples.map(({ line }) => line)).toEqual([1, 3]);
  });

  it('a zipped file that is cut short gives the rows before the break, and the break is told', async () => {
    const whole = gzipSync(
      lines(...Array.from({ length: 20_000 }, (_, row) => ({ ...SAMPLE, volts: (row * 7919) % 60 }))),
    );
    const { report, setAside, samples } = await read(whole.subarray(0, whole.length / 2));
    expect(report.taken).toBeGreaterThan(3000);
    expect(samples).toHaveLength(report.taken);
    expect(setAside).toEqual([
      { line: report.taken + 1, field: '', value: '', reason: expect.stringContaining('got a file that ends early') },
    ]);
  });

  it('where the file is cut into chunks does not matter', async () => {
    const bytes = Buffer.from(lines(SAMPLE, { ...SAMPLE, unit: 'Größe' }, 'bad', { ...SAMPLE, volts: 'x' }));
    const readCut = async (places: number[]) => {
      const table = ndjsonTable(cutAt(bytes, places), await keysOf(cutAt(bytes, places)));
      return collect({ read: async (_, sink) => waveformCsv.readTable(table, sink) }, cutAt(bytes, []));
    };
    const whole = await readCut([]);
    expect([whole.report.taken, whole.report.setAside]).toEqual([2, 2]);
    for (let at = 1; at < bytes.length; at += 1) expect(await readCut([at, at + 3])).toEqual(whole);
  });
});

describe('records a line each', () => {
  it('a key that no order has means what a missing column means; one that some have, what an empty cell means', async () => {
    const order = { work_order: 7, unit: '014', opened: '2024-03-01', parts_cost: 183.05, road_call: true };
    const [all] = (await read(lines(order))).orders;
    expect(all!.row).toMatchObject({ workOrder: '7', unit: '014', partsCostMinor: 18_305, roadCall: true });
    expect(all!.row.closedUs).toBe(Date.UTC(2024, 2, 1) * 1000);
    const { orders } = await read(lines(order, { ...order, work_order: '8', closed: '2024-03-02' }));
    expect(orders.map(({ row }) => row.closedUs)).toEqual([null, Date.UTC(2024, 2, 2) * 1000]);
  });
});

describe('other JSON is refused with what to do', () => {
  it.each([
    [
      `[${JSON.stringify(SAMPLE)}]`,
      'file requires one JSON object a line, got a JSON list: write each object on its own line',
    ],
    ['{\n"unit": "T-1"\n}\n', 'file requires one JSON object a line, got other text'],
    ['{"town": 1}\n', 'file requires the columns of a known kind, got town'],
  ])('%s', async (content, reason) => {
    await expect(read(content)).rejects.toThrow(reason);
  });
});
