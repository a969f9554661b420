import { describe, expect, it } from 'vitest';
import { J1939_SIGNALS, pgnOf, readSignal, sourceOf } from '../../etl/readers/can/j1939-signals.ts';
import { counts, logLine, readBusLog } from '../support/bus-log.ts';

/** Every signal of one frame by its SPN; absent ones are left out. */
function decoded(frame: string): Record<number, number> {
  const [id, hex] = frame.split('#') as [string, string];
  const data = Buffer.from(hex, 'hex');
  const places = J1939_SIGNALS.filter(({ pgn }) => pgn === pgnOf(Number.parseInt(id, 16)));
  const values = places.map((place) => [place.spn, readSignal(place, data, data.length)] as const);
  return Object.fromEntries(values.filter(([, value]) => !Number.isNaN(value)));
}

describe('parameter group and sender come from the 29-bit id (SAE J1939-21)', () => {
  it('PDU2: the low byte belongs to the group', () => {
    expect([pgnOf(0x18fef700), pgnOf(0x0cf00400), pgnOf(0x18feca00)]).toEqual([65271, 61444, 65226]);
  });
  it('PDU1: the low byte is a destination', () => {
    expect([pgnOf(0x18ecff00), pgnOf(0x18ebff27), pgnOf(0x18da00f9)]).toEqual([60416, 60160, 0xda00]);
  });
  it('the data page is part of the group, priority and sender are not', () => {
    expect([pgnOf(0x19fef721), pgnOf(0x00fef721), sourceOf(0x18fef721)]).toEqual([0x1fef7, 65271, 0x21]);
  });
});

/** Frames of real vehicles: a check from outside. Scale and offset: SAE J1939-71. */
describe('frames of real vehicles', () => {
  it('battery potential 14.05 V and 11.70 V', () => {
    expect(decoded('18FEF700#FFFFFFFF1901FFFF')).toEqual({ 168: 14.05 });
    expect(decoded('18FEF700#FFFFFFFFEA00FFFF')).toEqual({ 168: 11.7 });
  });
  it('keyswitch potential 12.00 V while battery potential is absent', () => {
    expect(decoded('18FEF700#FFFFFFFFFFFFF000')).toEqual({ 158: 12 });
  });
  it('engine speed 1531.625 rpm', () => {
    expect(decoded('0CF00400#219B9BDD2F000F9B')[190]).toBe(1531.625);
  });
  it('coolant 92 °C, ambient 33.09 °C', () => {
    expect(decoded('18FEEE00#84FFFFFFFFFFFFFF')).toEqual({ 110: 92 });
    expect(decoded('18FEF500#A8FFFF4326FFFFFF')[171]).toBeCloseTo(33.09, 2);
  });
  it('engine hours 7755.15 h, distance 438,978.0 km', () => {
    expect(decoded('18FEE500#DF5D02004D550000')[247]).toBe(7755.15);
    expect(decoded('18FEE000#C72C010010963500')[245]).toBe(438_978);
  });
});

/** SAE J1939-71: 0xFB… to 0xFD… are codes, 0xFE… error, 0xFF… not available; a reading is at most 0xFAFF, 0xFA. */
describe('what is no reading is absent', () => {
  it('16 bits: 0xFAFF is the greatest value', () => {
    expect(decoded('18FEF700#FFFFFFFFFFFAFFFF')[168]).toBeCloseTo(3212.75, 9);
    for (const raw of ['00FB', 'FFFD', '00FE', 'FFFF']) expect(decoded(`18FEF700#FFFFFFFF${raw}FFFF`)).toEqual({});
  });
  it('8 bits: 0xFA', () => {
    expect(decoded('18FEEE00#FAFFFFFFFFFFFFFF')).toEqual({ 110: 210 });
    for (const raw of ['FB', 'FE', 'FF']) expect(decoded(`18FEEE00#${raw}FFFFFFFFFFFFFF`)).toEqual({});
  });
  it('32 bits: 0xFAFFFFFF', () => {
    expect(decoded('18FEE500#FFFFFFFA00000000')[247]).toBeCloseTo(210_554_060.75, 6);
    expect(decoded('18FEE500#000000FB00000000')).toEqual({});
  });
  it('a code of four bits: error 14 and not available 15', () => {
    expect(decoded('0CF00400#FFFFFFFFFFFFF2FF')).toEqual({ 1675: 2 });
    for (const raw of ['FE', 'FF']) expect(decoded(`0CF00400#FFFFFFFFFFFF${raw}FF`)).toEqual({});
  });
  it('a frame that is too short for it', () => {
    expect(decoded('18FEF700#FFFFFFFF19')).toEqual({});
  });
});

describe('a log', () => {
  it('hands on what bears on starting and counts every frame', async () => {
    const text =
      logLine(0, '18FEF700#FFFFFFFF1901FFFF') +
      logLine(0.5, '18FEF700#FFFFFFFFFFFFF000') +
      logLine(1, '0CF00400#219B9BDD2F000F9B') +
      logLine(2, '18FEE500#DF5D02004D550000') +
      logLine(3, '18FEDF00#FFFFFFFFFFFFFFFF');
    const { report, signals } = await readBusLog(text);
    expect(counts(report)).toEqual([5, 0]);
    expect(signals.map(({ signal, value, line }) => [signal, value, line])).toEqual([
      ['batteryVolts', 14.05, 1],
      ['keyswitchVolts', 12, 2],
      ['engineRpm', 1531.625, 3],
      // Byte 7 of the same frame: 0F is not available.
    ]);
  });

  it('refuses an ambient temperature of −273 °C, which is all zeros', async () => {
    const { report, signals, setAside } = await readBusLog(logLine(0, '18FEF521#0000000000000000'));
    expect([counts(report), signals]).toEqual([[0, 1], []]);
    expect(setAside[0]).toEqual({
      line: 1,
      field: 'ambient temperature',
      value: '-273',
      reason: 'ambient temperature requires a value from -70 to 150 °C',
    });
  });

  it('tells two control units that disagree on distance, and uses neither', async () => {
    // 537,151.6 km at 5 m a count: 107,430,320 = 0x066741B0.
    const text = logLine(0, '18FEE000#C72C010010963500') + logLine(1, '18FEC117#B0416706FFFFFFFF');
    const { report, signals } = await readBusLog(text);
    expect(signals).toEqual([]);
    expect(report.notes).toEqual([
      'control units disagree on distance: 0 says 438978.0 km (line 1), 23 says 537151.6 km (line 2): neither is used',
    ]);
  });

  it('does not take what a truck drives meanwhile for a disagreement', async () => {
    // One hour and 60 km later, from another control unit: 439,038.0 km = 0x00359800 + 0x0170 counts.
    const text = logLine(0, '18FEE000#C72C010010963500') + logLine(3600, '18FEE017#C72C0100F0973500');
    expect((await readBusLog(text)).report.notes).toEqual([]);
  });

  it('takes one sender of a signal, tells the other, and never mixes them', async () => {
    const text = [0, 1, 2]
      .map((s) => logLine(s, '18FEF700#FFFFFFFFFC00FFFF') + logLine(s + 0.5, '18FEF721#FFFFFFFFF000FFFF'))
      .join('');
    const { report, signals } = await readBusLog(text);
    expect(signals.map(({ value }) => value)).toEqual([12.6, 12.6, 12.6]);
    expect(report.notes).toEqual(['battery voltage is sent by control unit 0 and also by 33: only that of 0 is used']);
  });

  it('says where volts were taken if the bank is not measured', async () => {
    const { report } = await readBusLog(logLine(0, '18FEF700#FFFFFFFFFFFFF000'));
    expect(report.notes).toEqual([
      "volts are those at the key switch, a little under the bank's: battery potential (SPN 168) is not sent",
    ]);
  });
});
