import { describe, expect, it } from 'vitest';
import { logLine, readBusLog } from '../support/bus-log.ts';

async function signalsOf(...frames: string[]) {
  const { signals } = await readBusLog(frames.map((frame, index) => logLine(index / 10, frame)).join(''));
  return signals.map(({ signal, value }) => [signal, value]);
}
async function codesOf(...frames: string[]) {
  const { codes, report } = await readBusLog(frames.map((frame, index) => logLine(index / 10, frame)).join(''));
  return { codes: codes.map(({ row }) => row.code), notes: report.notes };
}

/** Formulas of SAE J1979; 31 38 → 12.600 V is the worked value. */
describe('polled values', () => {
  it('control module voltage', async () => {
    expect(await signalsOf('7E8#0441423138AAAAAA')).toEqual([['moduleVolts', 12.6]]);
  });
  it('engine speed, coolant and ambient temperature', async () => {
    expect(await signalsOf('7E8#04410C02D0000000', '7E8#0341055A00000000', '7E8#0341462300000000')).toEqual([
      ['engineRpm', 180],
      ['coolantC', 50],
      ['ambientC', -5],
    ]);
  });
  it('answers with 29-bit ids', async () => {
    expect(await signalsOf('18DAF110#0441423138AAAAAA')).toEqual([['moduleVolts', 12.6]]);
  });
  it('requests, other services, other values and other ids are passed over', async () => {
    const frames = ['7DF#0201420000000000', '7E8#037F011200000000', '7E8#0341118000000000', '7E0#0441423138AAAAAA'];
    expect(await signalsOf(...frames, '18DB33F1#0201420000000000')).toEqual([]);
  });
  it('an answer cut short is no value', async () => {
    expect(await signalsOf('7E8#03414231', '7E8#044142')).toEqual([]);
  });
});

/** SAE J2012: 0562 is system voltage low, 0512 start request, 0615 starter relay circuit. */
describe('stored codes', () => {
  it('in one frame, filling left out', async () => {
    expect(await codesOf('7E8#0643020562051200')).toEqual({ codes: ['P0562', 'P0512'], notes: [] });
    expect(await codesOf('7E8#0443010562000000')).toEqual({ codes: ['P0562'], notes: [] });
    expect(await codesOf('7E8#0243000000000000')).toEqual({ codes: [], notes: [] });
  });
  it('letters of the four systems', async () => {
    const { codes } = await codesOf('7E8#0643020100412300', '7E9#0647029ABCD00100');
    expect(codes).toEqual(['P0100', 'C0123', 'B1ABC', 'U1001']);
  });
  it('in several frames (ISO 15765-2)', async () => {
    const { codes, notes } = await codesOf('7E8#100A430405620512', '7E8#2106150563000000');
    expect([codes, notes]).toEqual([['P0562', 'P0512', 'P0615', 'P0563'], []]);
  });
  it('a frame missing or out of order: told, and no code made up', async () => {
    const { codes, notes } = await codesOf('7E8#1010430705620512', '7E8#2206150563000000');
    expect(codes).toEqual([]);
    expect(notes).toEqual(['1 answers of several frames are not whole: frames are missing']);
  });
  it('asked for again and again they stay one row', async () => {
    expect((await codesOf('7E8#0443010562000000', '7E8#0443010562000000')).codes).toEqual(['P0562']);
  });
});
