/** What truly happened, read off the circuit's own moments and series: the definitions of the export's fields. */
import { STEP, type Course, type PressMoments } from './circuit.ts';
import { expectedSpeed } from './fault-plan.ts';
import type { Fault, Plan } from './plan.ts';

export type TruePattern =
  'preheat' | 'no_response' | 'free_spin' | 'chatter' | 'solenoid_only' | 'dropout' | 'slow' | 'long' | 'steady';
export type TrueSuspect = 'battery' | 'starter' | 'cables' | 'control' | '';

export type TrueCrank = {
  /** Seconds of the course. */
  onset: number;
  release: number;
  rollingFrom: number;
  rollingTo: number;
  restVolts: number;
  dipVolts: number;
  dipAt: number;
  crankVolts: number;
  /** Mean over the rolling phase; of an engine that stood still, 0; NaN where it fired at once. */
  rpm: number;
  pattern: TruePattern;
  /** So near a limit that either name would do. */
  borderline: TruePattern[];
  suspect: TrueSuspect;
  alsoRight: string[];
  relativeCompression: number;
  fired: boolean;
  /** It had been running before in this course. */
  restart: boolean;
};

/** A crank whose speed is under this share of what the vehicle would turn at is slow; up to the second it may be. */
const SLOW_SHARE = 0.65;
const SLOWISH_SHARE = 0.85;

export function truthOf(plan: Plan, course: Course): TrueCrank[] {
  const cranks = course.presses.flatMap((moments) => {
    const crank = ofPress(plan, course, moments);
    return crank === null ? [] : [crank];
  });
  const heaters =
    plan.presses.length === 0 ? [] : plan.loads.filter(({ kind, amps }) => kind === 'heater' && amps > 40);
  return [...cranks, ...heaters.map((load) => ofHeater(load))].sort((a, b) => a.onset - b.onset);
}

const at = (seconds: number) => Math.max(0, Math.round(seconds / STEP));

function mean(series: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = at(from); i < at(to); i++) sum += series[i]!;
  return sum / Math.max(1, at(to) - at(from));
}

function ofHeater({ from, to }: { from: number; to: number }): TrueCrank {
  const none = Number.NaN;
  const span = { onset: from, release: to, rollingFrom: from, rollingTo: from, dipAt: from };
  const volts = { restVolts: none, dipVolts: none, crankVolts: none, rpm: none, relativeCompression: none };
  const words = { pattern: 'preheat', borderline: [], suspect: '', alsoRight: [] } as const;
  return { ...span, ...volts, ...words, borderline: [], alsoRight: [], fired: false, restart: false };
}

function ofPress(plan: Plan, course: Course, moments: PressMoments): TrueCrank | null {
  const { press, letGo, closes, opens, fires } = moments;
  const turned = closes.length > 0;
  const onset = turned ? closes[0]! : press.at;
  const release = turned ? (opens.at(-1) ?? course.count * STEP) : letGo;
  const dipAt = dipAfter(course, onset, Math.min(release, onset + 0.12));
  const rollingFrom = firstCompression(course, dipAt, Math.min(release, onset + 0.3));
  const rollingTo = Math.max(rollingFrom, Math.min(fires, release));
  // An engine that fires at once is not turned by the starter long enough to tell a speed.
  const rpm = rollingTo - rollingFrom > 0.05 ? mean(course.rpm, rollingFrom, rollingTo) : Number.NaN;
  const crank = {
    onset,
    release,
    rollingFrom,
    rollingTo,
    dipAt,
    restVolts: restBefore(course, press.at),
    dipVolts: course.volts[at(dipAt)]!,
    crankVolts: mean(course.volts, rollingFrom, rollingTo),
    rpm,
    relativeCompression: Math.min(...plan.vehicle.engine.cylinder) / Math.max(...plan.vehicle.engine.cylinder),
    fired: fires < Infinity,
    restart: plan.runsUntil > 0,
  };
  return { ...crank, ...judged(plan, moments, { rpm, seconds: release - onset, fired: crank.fired, turned }) };
}

function restBefore({ volts }: Course, press: number): number {
  const window = Array.from(volts.subarray(Math.max(0, at(press - 1)), at(press))).filter((_, i) => i % 20 === 0);
  return window.sort((a, b) => a - b)[window.length >> 1]!;
}

function dipAfter({ volts }: Course, from: number, to: number): number {
  let best = at(from);
  for (let i = best; i < at(to); i++) if (volts[i]! < volts[best]!) best = i;
  return best * STEP;
}

/** The first cylinder to pass its top dead centre after the dip, at the latest at `latest`. */
function firstCompression({ compressions }: Course, dip: number, latest: number): number {
  return Math.min(latest, compressions.find((t) => t > dip + 0.002) ?? latest);
}

type Seen = { rpm: number; seconds: number; fired: boolean; turned: boolean };
type Judged = Pick<TrueCrank, 'pattern' | 'borderline' | 'suspect' | 'alsoRight'>;

const BLAMED: Record<Fault, Judged['suspect']> = {
  none: '',
  'weak battery': 'battery',
  'flat battery': 'battery',
  'bad cable': 'cables',
  'worn starter': 'starter',
  'brush dropouts': 'starter',
  'control dropouts': 'control',
  'solenoid only': 'starter',
  'chatter by battery': 'battery',
  'chatter by cable': 'cables',
  'no response, control': 'control',
  'no response, winding': 'starter',
  'free spin': 'starter',
  drag: 'starter',
  'does not fire': '',
  'weak cylinder': '',
};

const IN_VAIN: Partial<Record<Fault, TruePattern>> = {
  'no response, control': 'no_response',
  'no response, winding': 'no_response',
  'solenoid only': 'solenoid_only',
  'free spin': 'free_spin',
};

function judged(plan: Plan, moments: PressMoments, seen: Seen): Judged {
  const suspect = BLAMED[plan.fault];
  const alsoRight = plan.fault === 'drag' ? [''] : [];
  const named = (pattern: TruePattern, borderline: TruePattern[] = []) => ({ pattern, borderline, suspect, alsoRight });
  const inVain = IN_VAIN[plan.fault];
  if (inVain !== undefined) return named(inVain);
  if (!seen.turned) return named('solenoid_only', ['no_response', 'chatter', 'slow']);
  if (moments.closes.length > 2 && plan.fault.startsWith('chatter')) return named('chatter');
  const lost = plan.brushesOpen.some((gap) => gap.at + 0.05 < seen.seconds);
  if (lost || (plan.controlLost.length > 0 && moments.closes.length > 1)) return named('dropout');
  return { ...turning(plan, seen), suspect, alsoRight };
}

/** Slow is told from what this vehicle does in order, in this weather; where cold alone makes it slow, either will do. */
function turning(plan: Plan, { rpm, seconds, fired }: Seen): Pick<TrueCrank, 'pattern' | 'borderline'> {
  const good = { ...plan, extra: { cableOhms: 0, motorOhms: 0 }, battery: { ...plan.battery, wear: 1, charge: 0.9 } };
  const usual = plan.vehicle.engine.warmRpm * expectedSpeed(good, plan.fault === 'drag' ? 1.1 : plan.friction);
  const share = rpm / usual;
  if (Number.isNaN(rpm)) return { pattern: 'steady', borderline: [] };
  const long = seconds >= 5 || (!fired && seconds >= 2.5);
  const other: TruePattern = long ? 'long' : 'steady';
  const nearLong: TruePattern[] = seconds > 4.5 || (!fired && seconds > 2.2) ? ['long', 'steady'] : [];
  if (share < SLOW_SHARE) return { pattern: 'slow', borderline: share > 0.6 || rpm > 125 ? [other] : [] };
  const slowish = share < SLOWISH_SHARE || rpm < 95 || plan.fault === 'drag';
  return { pattern: other, borderline: [...nearLong, ...(slowish ? (['slow'] as const) : [])] };
}
