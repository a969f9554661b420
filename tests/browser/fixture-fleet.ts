/** Answers for a made-up fleet of any size: the page's own tests need shapes and extremes, not a true forecast. */
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Ranking, RankingRow } from '../../api/contract/ranking.ts';
import type { UnitTrend, UnitView, Waveform } from '../../api/contract/unit.ts';

export const AS_OF = '2026-03-01';
const DEPOTS = ['Fennick', 'Oldharbour', 'Tarn Cross', 'Westmere'];
const CLASSES = ['Regional bus', 'Refuse truck', 'Service van'];
/** Unit numbers are data: this one must show as text. */
export const HOSTILE_UNIT = '<img src=x onerror=alert(1)>';
/** And this one must survive the trip through an address. */
export const AWKWARD_UNIT = 'B/7 #2?&x=1 ü';

const DAY_MS = 86_400_000;
const dayOf = (days: number) =>
  new Date(Date.parse(`${AS_OF}T00:00:00Z`) + Math.round(days) * DAY_MS).toISOString().slice(0, 10);

const FIXTURE_RUNGS: UnitView['rungs'] = [
  {
    component: 'battery',
    rung: 'own_scale',
    failures: 12,
    lives: 41,
    fleetFailures: 31,
    fleetLives: 127,
    corrected: true,
  },
  { component: 'starter', rung: 'fleet', failures: 0, lives: 38, fleetFailures: 4, fleetLives: 112, corrected: true },
];

type Draw = () => number;

function draws(seed: number): Draw {
  const generator = xoroshiro128plus(seed);
  return () => (generator.next() >>> 0) / 2 ** 32;
}

export function fixtureRanking(units: number): Ranking {
  const draw = draws(1);
  const rows = Array.from({ length: units }, (_, index) => unitRows(unitName(index), draw)).flat();
  rows.sort((a, b) => (b.costOfWaitingMinor ?? -Infinity) - (a.costOfWaitingMinor ?? -Infinity));
  for (const [index, row] of rows.entries()) {
    row.rank = index + 1;
    row.rankBefore = index % 17 === 3 ? null : Math.max(1, index + 1 + Math.round((draw() - 0.5) * 30));
  }
  return {
    state: 'ready',
    asOf: AS_OF,
    asOfOn: AS_OF,
    previousAsOf: '2026-02-22',
    store: 'sample',
    storeOption: '',
    stale: false,
    currency: 'USD',
    rows,
    assumptions: [
      {
        name: 'Road call',
        setting: 'roadCallMinor',
        value: '$491',
        from: 'default',
        source: 'average US roadside mechanical repair 2020, trade benchmarking',
      },
      {
        name: 'Labour rate',
        setting: 'laborRateMinorPerHour',
        value: '$120 an hour',
        from: 'default',
        source: 'from memory',
      },
      {
        name: 'Starter, parts',
        setting: 'costs.starter.partsMinor',
        value: '$465',
        from: 'set',
        source: 'entered in the settings',
      },
    ],
  };
}

export function unitName(index: number): string {
  if (index === 2) return HOSTILE_UNIT;
  if (index === 3) return AWKWARD_UNIT;
  return `T-${String(index + 1).padStart(4, '0')}`;
}

function unitRows(unit: string, draw: Draw): RankingRow[] {
  const depot = DEPOTS[Math.floor(draw() * DEPOTS.length)]!;
  const className = CLASSES[Math.floor(draw() * CLASSES.length)]!;
  const visit = Math.round(5 + draw() * 85);
  const assumed = draw() < 0.3;
  return (['battery', 'starter'] as const).map((component): RankingRow => {
    // Most parts are far from failing; a tail is near.
    const mid = 25 + 2600 * draw() ** 1.3;
    const early = mid * (0.25 + 0.3 * draw());
    const late = mid * (1.5 + draw());
    const chance = Math.min(0.97, visit / (mid * 2.2 + 10) / (1 + mid / 600));
    const waiting = Math.round(chance * 130_000 - 14_000);
    const action =
      waiting > 30_000 ? 'book_now' : waiting > 8000 ? 'measure_first' : chance > 0.05 ? 'book_at_next_visit' : 'leave';
    const silent = draw() < 0.02;
    return {
      rank: 0,
      unit,
      position: '',
      depot,
      class: className,
      component,
      action: silent ? 'measure_first' : action,
      actByOn: action === 'book_now' ? dayOf(3 + draw() * 10) : null,
      pFailToNextVisit: silent ? null : chance,
      pFail30d: silent ? null : chance * 0.6,
      pFail60d: silent ? null : chance,
      pFail90d: silent ? null : Math.min(0.98, chance * 1.4),
      windowEarlyOn: silent || early > 1826 ? null : dayOf(early),
      windowMidOn: silent || mid > 1826 ? null : dayOf(mid),
      windowLateOn: silent || late > 1826 ? null : dayOf(late),
      ageDays: silent ? null : Math.round(200 + draw() * 1500),
      costNowMinor: component === 'battery' ? 66_500 : 95_000,
      costOfWaitingMinor: silent ? null : waiting,
      roadCallRisk: silent ? null : chance * 0.7,
      nextVisitOn: assumed ? dayOf(90) : dayOf(visit),
      nextVisitFrom: assumed ? 'assumed' : 'maintenance',
      why: silent ? 'the unit is not in the register' : 'cranking voltage 9.81 V (class van: 10.40 V), −0.35 V a year',
      reason: silent
        ? 'Nothing can be said: no crank since October and no record of a replacement.'
        : component === 'battery'
          ? `Sag ratio up ${(draw() * 0.4).toFixed(2)} a year at ${Math.round(300 + draw() * 1200)} days; ${Math.round(draw() * 5)} retries in 30 days.`
          : `Cranking speed down ${Math.round(draw() * 30)} rpm a year; ${Math.round(draw() * 4)} dropouts per 100 cranks since January.`,
      basis: silent ? ['none'] : late > 1826 ? ['lives', 'condition', 'beyond_horizon'] : ['lives', 'condition'],
      rankBefore: null,
      booking: null,
      deferral: null,
    };
  });
}

export function fixtureUnit(ranking: Ranking, unit: string): UnitView | null {
  const rows = ranking.rows.filter((row) => row.unit === unit);
  const first = rows[0];
  if (first === undefined) return null;
  const draw = draws(7);
  return {
    unit,
    asOf: AS_OF,
    asOfOn: AS_OF,
    newestAsOf: AS_OF,
    newestOn: AS_OF,
    reassessed: null,
    store: 'sample',
    currency: 'USD',
    register: [
      { label: 'Depot', value: first.depot },
      { label: 'Class', value: first.class },
      { label: 'System', value: '24 V, 2 batteries, 900 A' },
      { label: 'Cylinders', value: '6' },
      { label: 'In service since', value: '14 May 2021' },
    ],
    depot: first.depot,
    class: first.class,
    positions: [''],
    crankCount: 4312,
    lastCrankAt: '2026-02-28T17:42:10.5Z',
    ranking: rows,
    outlooks: rows.map((row) => ({
      ...pick(row),
      position: '',
      evidence: row.basis.includes('none')
        ? ['No crank for 140 days: the logger has fallen silent.']
        : [
            row.reason,
            'Two retries in the last 30 days, none in the 30 before.',
            'Fitted 3.1 years ago; half of this class’s batteries last 3.6 years.',
          ],
      survivalDays: row.basis.includes('none') ? [] : Array.from({ length: 66 }, (_, step) => step * 28),
      survival: row.basis.includes('none')
        ? []
        : Array.from({ length: 66 }, (_, step) =>
            Math.exp(-(((step * 28) / (row.component === 'battery' ? 420 : 800)) ** 1.8)),
          ),
    })),
    rungs: FIXTURE_RUNGS,
    since: [],
    pastForecasts: [],
    pastHorizonDays: 0,
    trends: [
      daily('battery', 'log_sag_ratio', { level: -0.05, slope: 0.21, residual: 0.05, season: 0.12 }, draw),
      daily('battery', 'rest_volts', { level: 24.9, slope: -0.18, residual: 0.09, season: 0.2 }, draw),
      daily('starter', 'crank_volts', { level: 18.6, slope: -0.7, residual: 0.3, season: 0.9 }, draw),
      daily('starter', 'crank_rpm', { level: 128, slope: -16, residual: 5, season: 14 }, draw),
      {
        ...daily('battery', 'battery_ohms', { level: 0, slope: 0, residual: 0, season: 0 }, draw),
        level: null,
        slopePerYear: null,
        n: 0,
        standing: 'not_recorded',
        days: [],
        values: [],
        rawValues: [],
      },
    ],
    lives: [
      {
        position: '',
        component: 'battery',
        fittedOn: '2021-05-14',
        fittedFrom: 'assumed',
        removedOn: '2024-06-20',
        end: 'failure',
        watchedFromOn: '2024-01-01',
        watchedToOn: '2024-06-20',
        workOrder: 'WO-1182',
      },
      {
        position: '',
        component: 'battery',
        fittedOn: '2024-06-20',
        fittedFrom: 'record',
        removedOn: null,
        end: 'in_service',
        watchedFromOn: '2024-06-20',
        watchedToOn: AS_OF,
        workOrder: 'WO-1182',
      },
      {
        position: '',
        component: 'starter',
        fittedOn: null,
        fittedFrom: 'assumed',
        removedOn: null,
        end: 'in_service',
        watchedFromOn: '2024-01-01',
        watchedToOn: AS_OF,
        workOrder: '',
      },
    ],
    workOrders: [
      order('WO-1182', '2024-06-19', 'battery', 'replaced', 'wont crank am; batteries no good; repl batt x2'),
      order('WO-1460', '2025-01-08', 'battery', 'jump_started', 'jump start yard; lights left on'),
      order('WO-1502', '2025-03-11', 'none', 'unrelated', 'lh mirror glass'),
      order('WO-1711', '2025-11-23', 'starter', 'inspected', 'slow crank cold; cleaned main terminals'),
    ],
    waveforms: Array.from({ length: 12 }, (_, index) => ({
      id: `w${index}`,
      position: '',
      at: `${dayOf(-330 + index * 30)}T06:1${index % 10}:00Z`,
      pattern: index % 5 === 4 ? ('slow' as const) : ('steady' as const),
      suspect: index % 5 === 4 ? ('starter_loop' as const) : null,
    })),
    measureNext: [
      {
        position: '',
        test: 'Load test, half the rated amps for 15 s',
        why: 'Tells a weak battery from a resisting loop.',
        expected: 'at least 9.6 V per 12 V battery at 20 °C',
        source: 'TM 9-6140-200',
      },
      {
        position: '',
        test: 'Voltage drop, positive side, while cranking',
        why: 'Burned contacts or a corroded clamp drop volts under load.',
        expected: 'at most 1.0 V on 24 V',
        source: 'TM 5-3895-382-24 table 30',
      },
    ],
    cautions: [
      'Lead-acid batteries give off explosive gas: eye protection, no flame.',
      'Park brake on, neutral, wheels chocked.',
    ],
  };
}

function pick(row: RankingRow) {
  const { component, ageDays, pFail30d, pFail60d, pFail90d, windowEarlyOn, windowMidOn, windowLateOn, basis } = row;
  return { component, ageDays, pFail30d, pFail60d, pFail90d, windowEarlyOn, windowMidOn, windowLateOn, basis };
}

type Shape = { level: number; slope: number; residual: number; season: number };

function daily(
  component: UnitTrend['component'],
  indicator: UnitTrend['indicator'],
  shape: Shape,
  draw: Draw,
): UnitTrend {
  const last = Date.parse(`${AS_OF}T00:00:00Z`) / DAY_MS;
  const days = Array.from({ length: 615 }, (_, index) => last - 614 + index).filter(() => draw() < 0.8);
  const noise = () => (draw() + draw() + draw() - 1.5) * 2 * shape.residual;
  const values = days.map((day) => shape.level + (shape.slope * (day - last)) / 365.25 + noise());
  const rawValues = values.map(
    (value, index) => value - shape.season * Math.cos(((days[index]! - last + 40) / 365.25) * 2 * Math.PI),
  );
  const slope = {
    slopePerYear: shape.slope,
    slopeLow: shape.slope * 0.6,
    slopeHigh: shape.slope * 1.4,
    senSlopePerYear: shape.slope * 0.95,
  };
  return {
    position: '',
    component,
    indicator,
    level: shape.level,
    ...slope,
    pValue: 0.0004,
    n: days.length,
    sinceOn: '2024-06-24',
    residual: shape.residual,
    standing: 'ok',
    days,
    values,
    rawValues,
  };
}

function order(
  workOrder: string,
  openedOn: string,
  component: UnitView['workOrders'][number]['component'],
  event: UnitView['workOrders'][number]['event'],
  text: string,
): UnitView['workOrders'][number] {
  const [complaint = '', cause = '', correction = ''] = text.split('; ');
  return {
    workOrder,
    openedOn,
    closedOn: openedOn,
    position: '',
    component,
    event,
    unplanned: event !== 'inspected',
    words: complaint,
    corrected: false,
    complaint,
    cause,
    correction,
  };
}

/** A crank of six compressions a second and a half: rest, dip, ripple, release, charging. */
export function fixtureWaveform(id: string): Waveform {
  const worn = Number(id.slice(1)) / 12;
  const seconds = Array.from({ length: 2400 }, (_, index) => -1 + index * 0.004);
  const volts = seconds.map((at) => {
    if (at < 0) return 25.2 - worn * 0.3;
    if (at < 0.12) return 13.5 - worn * 1.5 + at * 40;
    if (at < 1.4 + worn) return 18.8 - worn * 1.2 + 0.7 * Math.sin(at * 2 * Math.PI * (6 - worn));
    return Math.min(27.8, 24.4 + (at - 1.4 - worn) * 1.6);
  });
  return {
    id,
    unit: 'T-0001',
    position: '',
    at: '2026-02-28T06:10:00Z',
    pattern: 'steady',
    seconds,
    volts,
    amps: null,
  };
}
