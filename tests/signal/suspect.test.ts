import { describe, expect, it } from 'vitest';
import { emptyTable, MEASURED_COLUMNS, type MeasuredColumn } from '../../etl/model/crank.ts';
import { PATTERNS, SUSPECTS, type Pattern } from '../../etl/model/words.ts';
import { finishCranks } from '../../etl/signal/finish.ts';
import { suspectEvidence } from '../../etl/signal/suspect-evidence.ts';
import { unit } from '../support/units.ts';

type Row = Partial<Record<MeasuredColumn, number>>;
const T0 = 1_700_000_000_000_000;
const CAR = unit({ batteryCcaA: 600, cylinders: 4 });

/**
 * A crank by Ohm's law alone. Stalled: I₀ = V_oc/(R_b + R_loop). Turning: the torque wants its current, whatever the
 * resistances; the speed is what the back-EMF leaves. Healthy at 25 °C: R_b 5 mΩ = 3/600 CCA, loop 7.5 mΩ, 400 A, 200 rpm.
 */
function crank({ open = 12.6, battery = 0.005, loop = 0.0075, amps = 400, tempC = 25, system = 1 } = {}): Row {
  const volts = open * system;
  const stalled = volts / ((battery + loop) * system);
  const rpm = (200 * (open - amps * (battery + loop))) / (12.6 - 400 * 0.0125);
  return {
    restVolts: volts,
    dipVolts: volts - stalled * battery * system,
    crankVolts: volts - amps * battery * system,
    rippleHz: rpm > 30 ? (Math.max(rpm, 41) * 4) / 120 : Number.NaN,
    crankSeconds: 1.5,
    rateHz: 200,
    source: 0,
    tempC,
    dropouts: 0,
    quality: 0,
  };
}
const withCurrent = (given: Parameters<typeof crank>[0] = {}): Row => {
  const { battery = 0.005, loop = 0.0075, amps = 400, open = 12.6 } = given;
  return { ...crank(given), batteryOhms: battery, loopOhms: loop, crankAmps: amps, ampsPeak: open / (battery + loop) };
};

function finished(rows: readonly Row[], of = CAR) {
  const table = emptyTable(MEASURED_COLUMNS, rows.length);
  rows.forEach((row, i) => {
    for (const [name, value] of Object.entries({ timeUs: T0 + i * 3600e6, quality: 0, ...row }))
      table.columns[name as MeasuredColumn][i] = value;
  });
  return finishCranks([{ importId: 1, sha256: 'a', table }], of);
}
/** Pattern and suspect of the last of the rows. */
const last = (rows: readonly Row[], of = CAR) => {
  const { columns, count } = finished(rows, of);
  return [PATTERNS[columns.pattern[count - 1]!], SUSPECTS[columns.suspect[count - 1]!] ?? 'none'];
};
const formed = (form: Pattern, row: Row = {}): Row => ({
  form: PATTERNS.indexOf(form),
  restVolts: 12.5,
  rateHz: 200,
  source: 0,
  ...row,
});

describe('no-start diagnosis as taught (TM 5-3895-383-24 p. 6-96)', () => {
  it('battery volts at the control terminal and nothing turns: starter or solenoid', () => {
    expect(last([formed('no_response', { controlVolts: 12.4 })])).toEqual(['no_response', 'starter']);
    expect(last([formed('no_response', { restVolts: 25, controlVolts: 24.2 })])).toEqual(['no_response', 'starter']);
  });
  it('no volts there: upstream', () => {
    expect(last([formed('no_response', { controlVolts: 0.1 })])).toEqual(['no_response', 'control']);
  });
  it('the solenoid pulls in, the motor draws nothing: contacts, brushes or ground of the starter; with an empty battery, that', () => {
    expect(last([formed('solenoid_only')])).toEqual(['solenoid_only', 'starter']);
    expect(last([formed('solenoid_only', { restVolts: 11.6 })])).toEqual(['solenoid_only', 'battery']);
  });
  it('the motor whirrs: drive clutch or pinion', () => {
    expect(last([formed('free_spin')])).toEqual(['free_spin', 'starter']);
  });
  it('chatter: over its own usual sag ratio the bank, under it the way to the starter', () => {
    const usual = Array.from({ length: 4 }, () => crank());
    const with12 = (dipVolts: number) => last([...usual, formed('chatter', { restVolts: 12.5, dipVolts, tempC: 25 })]);
    expect(with12(6.8)).toEqual(['chatter', 'battery']);
    expect(with12(8.2)).toEqual(['chatter', 'starter_loop']);
  });

  it('a speed too slow to be an engine’s is none, and neither is the double of it', () => {
    const { columns, count } = finished([{ ...crank(), rippleHz: 1, rippleOtherHz: 2 }]);
    expect(columns.crankRpm[count - 1]).toBeNaN();
  });

  it('rapid clicking: a battery that collapses, or resistance on the way to the solenoid', () => {
    expect(last([formed('chatter', { restVolts: 12.2, dipVolts: 4.5, tempC: 25 })])).toEqual(['chatter', 'battery']);
    expect(last([formed('chatter', { restVolts: 11.6, dipVolts: 7, tempC: 25 })])).toEqual(['chatter', 'battery']);
    const starved = formed('chatter', { restVolts: 12.6, dipVolts: 11.4, tempC: 25 });
    expect(last([starved])).toEqual(['chatter', 'starter_loop']);
    expect(last([{ ...starved, controlVolts: 11.9 }])).toEqual(['chatter', 'cables']);
  });
  it('rapid clicking on a bank and a way that current shows to be sound: the hold-in winding', () => {
    const row = formed('chatter', { restVolts: 12.6, dipVolts: 7.6, tempC: 25, ampsPeak: 1000 });
    expect(last([{ ...row, batteryOhms: 0.005 }])).toEqual(['chatter', 'starter']);
    expect(last([{ ...row, batteryOhms: 0.0075 }])).toEqual(['chatter', 'battery']);
    expect(last([{ ...row, batteryOhms: 0.005, dipVolts: 11.8 }])).toEqual(['chatter', 'cables']);
  });
  it('contact lost with the control: control, chattering or not', () => {
    const row = formed('dropout', { dropouts: 2 });
    expect(last([{ ...row, controlDropouts: 2 }])).toEqual(['dropout', 'control']);
    expect(last([{ ...row, form: PATTERNS.indexOf('chatter'), controlDropouts: 2 }])).toEqual(['chatter', 'control']);
  });
  it('contact lost in spite of the control: starter; starter or cables where nothing but the bank is logged', () => {
    const row = formed('dropout', { dropouts: 2, controlDropouts: 0 });
    expect(last([{ ...row, controlVolts: 11 }])).toEqual(['dropout', 'starter']);
    expect(last([{ ...row, ampsPeak: 900 }])).toEqual(['dropout', 'starter']);
    expect(last([row])).toEqual(['dropout', 'starter_loop']);
  });
  it('a heater and the unreadable point to nothing', () => {
    expect(last([formed('preheat')])).toEqual(['preheat', 'none']);
    expect(last([formed('unreadable')])).toEqual(['unreadable', 'none']);
  });
});

describe('a slow crank by voltage alone (Ohm’s law)', () => {
  it.each([1, 2])(
    'healthy: none; battery resistance three times: battery; loop twice and a half: starter_loop (× %i)',
    (system) => {
      const of = system === 2 ? unit({ ...CAR, systemVolts: 24 }) : CAR;
      expect(last([crank({ system })], of)).toEqual(['steady', 'none']);
      expect(last([crank({ system, battery: 0.014 })], of)).toEqual(['slow', 'battery']);
      expect(last([crank({ system, loop: 0.0185 })], of)).toEqual(['slow', 'starter_loop']);
    },
  );
  it('half-empty battery, 11.6 V at rest (TM 5-3805-262-20: at most 11.7 V empty): battery', () => {
    expect(last([crank({ open: 11.6, amps: 620 })])).toEqual(['slow', 'battery']);
  });
  it('no speed and no dip at 10 Hz, 7.5 V while cranking, warm (table: 8 V): battery', () => {
    expect(last([{ restVolts: 12.6, crankVolts: 7.5, rateHz: 10, tempC: 20, source: 0 }])).toEqual(['slow', 'battery']);
  });
  it('at 20 Hz what was met of the dip still tells battery from loop, and no ratio is reported of it', () => {
    const met = (given: Parameters<typeof crank>[0]) => {
      const row = crank(given);
      return { ...row, rateHz: 20, rippleHz: Number.NaN, dipVolts: row.dipVolts! + 0.1 * (12.6 - row.dipVolts!) };
    };
    expect(last([met({ battery: 0.014 })])).toEqual(['slow', 'battery']);
    expect(last([met({ loop: 0.0185 })])).toEqual(['slow', 'starter_loop']);
    expect(finished([met({ loop: 0.0185 })]).columns.sagRatio[0]).toBeNaN();
  });
  it('a weak cylinder makes the engine uneven, not the starter faulty', () => {
    const slow = { ...crank({ loop: 0.0185 }), rippleHz: 2.6 };
    expect(last([slow])).toEqual(['slow', 'starter_loop']);
    expect(last([{ ...slow, relativeCompression: 0.6 }])).toEqual(['slow', 'none']);
  });
  it('cold: battery resistance doubles from +25 to −18 °C, friction grows: turns slowly, nothing is wrong', () => {
    expect(last([crank({ tempC: -18, battery: 0.01, amps: 500, open: 12.5 })])[1]).toBe('none');
    expect(last([crank({ tempC: -18, battery: 0.02, amps: 400 })])).toEqual(['slow', 'battery']);
  });
});

describe('with current (TM 10-3930-671-24 F-299/300)', () => {
  it('slow with much current, resistances in order: drag or short, the starter', () => {
    expect(last([withCurrent({ amps: 760 })])).toEqual(['slow', 'starter']);
    expect(last([{ ...crank({ amps: 760 }), controlVolts: 8.5 }])).toEqual(['slow', 'starter']);
    expect(last([crank({ amps: 760 })])).toEqual(['slow', 'starter_loop']);
  });
  it('slow with much current in the cold, or where it may be cold: the oil drags, no component', () => {
    const stiff = { ...withCurrent({ amps: 700, battery: 0.0068 }), rippleHz: 2 };
    expect(last([{ ...stiff, tempC: 10 }])).toEqual(['slow', 'starter']);
    expect(last([{ ...stiff, tempC: 3 }])).toEqual(['slow', 'none']);
    expect(last([{ ...stiff, tempC: Number.NaN }])).toEqual(['slow', 'none']);
  });
  it('slow with little current at good volts: circuit resistance, cables first; told apart by the control terminal', () => {
    const slow = withCurrent({ loop: 0.0185 });
    expect(last([slow])).toEqual(['slow', 'cables']);
    // 400 A through 11 mΩ of cable lose 4.4 V, which the terminal lacks too; brushes leave it the battery's volts.
    expect(last([{ ...slow, controlVolts: 10.6 - 4.4 }])).toEqual(['slow', 'cables']);
    expect(last([{ ...slow, controlVolts: 10.6 - 0.3 }])).toEqual(['slow', 'starter']);
  });
  it('a battery that would fail the load test at 20 °C (6.0 V over CCA) is one even while it still turns', () => {
    const amps = 250;
    expect(last([withCurrent({ battery: 0.0105, amps, tempC: 20 })])).toEqual(['steady', 'battery']);
    expect(last([withCurrent({ battery: 0.0075, amps, tempC: 20 })])).toEqual(['steady', 'none']);
  });
});

describe('against the engine’s own earlier cranks', () => {
  const own = Array.from({ length: 5 }, () => crank({ battery: 0.006, loop: 0.0052 }));
  it('a rising sag ratio says battery, a falling one with slower cranking starter_loop', () => {
    const slowBattery = { ...crank({ battery: 0.0095, loop: 0.0052, amps: 560 }), rippleHz: 2.5 };
    const slowLoop = { ...crank({ battery: 0.006, loop: 0.0095, amps: 440 }), rippleHz: 2.5 };
    expect(last([...own, slowBattery])).toEqual(['slow', 'battery']);
    expect(last([...own, slowLoop])).toEqual(['slow', 'starter_loop']);
  });
  it('it sags 1.9 times as far and turns: its battery, unless that may be the cold or current shows it to be sound', () => {
    const sags = { ...crank({ battery: 0.0102, loop: 0.0052 }), rippleHz: 7 };
    const times = (ratio: number) => {
      const dipVolts = 12.6 / (1 + ratio * (0.006 / 0.0052));
      return { ...sags, dipVolts, crankVolts: 9.4 };
    };
    expect(last([...own, times(1.9)])).toEqual(['steady', 'battery']);
    expect(last([...own, { ...times(1.9), batteryOhms: 0.006 }])).toEqual(['steady', 'none']);
    const unknown = (row: Row) => ({ ...row, tempC: Number.NaN });
    expect(last([...own.map(unknown), unknown(times(1.9))])).toEqual(['steady', 'none']);
    expect(last([...own.map(unknown), unknown(times(2.2))])).toEqual(['steady', 'battery']);
  });
  it('later cranks change nothing, and another rate is no measure', () => {
    const slow = { ...crank({ battery: 0.006, loop: 0.0095, amps: 440 }), rippleHz: 2.5 };
    const suspects = (rows: readonly Row[]) => [...finished(rows).columns.suspect];
    expect(suspects([...own, slow, ...own])[5]).toBe(suspects([...own, slow])[5]);
    expect(suspects([slow, ...own])[0]).toEqual(suspects([slow])[0]);
    const otherRate = own.map((row) => ({ ...row, rateHz: 1000 }));
    expect(suspects([...otherRate, slow])[5]).toEqual(suspects([slow])[0]);
  });
});

describe('evidence', () => {
  const evidence = (row: Row) => suspectEvidence(finished([row]), CAR)[0]!.join('; ');
  it('names what was read and what it is held against', () => {
    expect(evidence(withCurrent({ battery: 0.014 }))).toBe(
      'the starter turned the engine slowly, or not at all; battery 14.0 mΩ, 2.8 times a healthy one at 25 °C; ' +
        '400 A while cranking; sag ratio 1.87, 0.5 to 1.2 is healthy when warm; 7.0 V for 12 V while cranking',
    );
    expect(evidence(formed('dropout', { dropouts: 1, controlDropouts: 1 }))).toContain(
      'contact lost 1 time while cranking, 1 of them with the control gone too',
    );
    const rattle = formed('chatter', { dropouts: 8, dipVolts: 7.6, tempC: 25, ampsPeak: 1000, batteryOhms: 0.005 });
    expect(evidence(rattle)).toContain('battery and cables are in order: its hold-in winding lets go by itself');
    expect(evidence({ ...rattle, controlDropouts: 8 })).toContain('the control was gone each time, or most times');
    expect(evidence(crank({ loop: 0.0185 }))).toContain(
      'volts at the battery alone do not tell the starter from its cables',
    );
  });
  it('says nothing of a crank that points to nothing', () => {
    expect(suspectEvidence(finished([crank()]), CAR)).toEqual([[]]);
  });
});
