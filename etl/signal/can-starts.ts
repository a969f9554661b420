/**
 * Starts of one engine, told from its bus: by the starter mode (SPN 1675) where it moves, else by the speed rising from
 * standstill. Many trucks send the mode as "not requested" for ever since a key switch drives the starter; so either
 * may open a crank, and the mode, once it has spoken in one, closes it.
 *
 * Example: mode 0 → 2 at 10.0 s, speed 0 → 180 rpm, 600 rpm at 11.2 s, mode 0 at 11.3 s: one crank of 1.3 s, started.
 */
import { PATTERNS } from '../model/words.ts';
import { blankCanRow, canRow, restVoltsBefore, type CanCrank } from './can-crank.ts';
import { CanTemperatures } from './can-temperature.ts';
import { CAN_THRESHOLDS as C, STARTER_ACTIVE, STARTER_ENGAGED, STARTER_INHIBITED } from './can-thresholds.ts';
import { forgetBefore, nearestToBank, noVolts, type VoltReadings } from './can-volts.ts';
import type { MeasuredRow } from './measured-row.ts';
import { PATTERN_THRESHOLDS } from './pattern-thresholds.ts';
import { THRESHOLDS as T } from './thresholds.ts';

/** When and on which line. */
export type At = { us: number; line: number };

type How = Pick<CanCrank, 'byMode' | 'begun'>;
/** A start that is asked for and held back. */
type HeldBack = At & { sure: boolean };

const unknown = Number.NaN;
const NO_RESPONSE = PATTERNS.indexOf('no_response');

export class CanStarts {
  /** Rows that are decided. */
  rows: MeasuredRow[] = [];
  readonly temperatures = new CanTemperatures();

  #lastUs = unknown;
  #rpm = unknown;
  #rpmUs = unknown;
  /** Last reading of standstill since the engine last ran; NaN where it may be turning. */
  #still: At = { us: unknown, line: 0 };
  #mode = unknown;
  #modeUs = unknown;
  /** The mode says "active" for longer than any starter is: not heeded until it says something else. */
  #hangs = false;
  #ranUs = unknown;
  #heldBack: HeldBack | null = null;
  readonly #recent: VoltReadings[] = noVolts();
  /** Going on. */
  #open: CanCrank | null = null;
  /** Released; what follows is still watched. */
  #released: CanCrank | null = null;

  /** To be called before each reading: time goes on, or a new record begins. */
  advance(us: number): void {
    const gapUs = us - this.#lastUs;
    if (gapUs > C.recordGapSeconds * 1e6 || gapUs < -C.recordGapSeconds * 1e6) this.breakRecord();
    this.#lastUs = us;
    const releaseUs = this.#released?.releaseUs ?? unknown;
    if (us > releaseUs + T.chargeToSeconds * 1e6) this.#settle();
    if (this.#open === null || us - this.#open.onsetUs <= T.longestCrankSeconds * 1e6) return;
    this.#open = null;
    this.#hangs = true;
  }

  /** The record ends here. */
  breakRecord(): void {
    if (this.#open !== null) {
      this.#open.cut = true;
      this.#release(this.#lastUs);
    }
    this.#settle();
    this.#endHeldBack(this.#lastUs, false);
    this.#rpm = this.#mode = this.#still.us = unknown;
    for (const place of this.#recent) forgetBefore(place, Infinity);
  }

  volts(place: number, us: number, value: number): void {
    const recent = this.#recent[place]!;
    forgetBefore(recent, us - C.restSeconds * 1e6);
    for (const { us: times, volts } of [recent, this.#open?.volts[place], this.#released?.volts[place]].filter(
      (each) => each !== undefined,
    )) {
      times.push(us);
      volts.push(value);
    }
  }

  mode(code: number, at: At): void {
    const first = Number.isNaN(this.#mode) || isSilent(this.#modeUs, at.us);
    this.#hangs &&= STARTER_ACTIVE.has(code);
    const active = STARTER_ACTIVE.has(code) && !this.#hangs;
    if (STARTER_INHIBITED.has(code)) this.#heldBack ??= { ...at, sure: !first && this.#mode !== code };
    else this.#endHeldBack(at.us, !active);
    const coarse = at.us - this.#modeUs > C.edgeSeconds * 1e6;
    this.#modeUs = at.us;
    const engaged = code === STARTER_ENGAGED && this.#mode !== STARTER_ENGAGED;
    this.#mode = code;
    if (active && this.#open === null) {
      this.#resumeOrBegin(at, { byMode: true, begun: first });
      this.#open!.coarse ||= coarse;
    } else if (active) this.#goOn(at.us, engaged);
    else if (this.#open?.byMode === true) {
      this.#open.coarse ||= coarse;
      this.#release(at.us);
    }
  }

  speed(rpm: number, at: At): void {
    const coarse = at.us - this.#rpmUs > C.edgeSeconds * 1e6;
    const first = Number.isNaN(this.#rpm) || isSilent(this.#rpmUs, at.us);
    [this.#rpm, this.#rpmUs] = [rpm, at.us];
    if (first) this.#still = { us: unknown, line: 0 };
    if (this.#open !== null) this.#speedInside(rpm, at.us, coarse);
    else if (!this.#speedAfter(rpm, at.us)) this.#speedOutside(rpm, at, first);
    if (rpm >= T.runningRpm) [this.#ranUs, this.#still] = [at.us, { us: unknown, line: 0 }];
    else if (rpm < C.stillRpm) this.#still = at;
  }

  /** The mode has spoken within an open crank: it decides release; the gear's engaging is nearer to the inrush. */
  #goOn(us: number, engaged: boolean): void {
    const open = this.#open!;
    if (engaged && open.byMode && open.dropouts === 0 && open.speed.rpm.every((rpm) => rpm < C.stillRpm))
      open.onsetUs = us;
    open.byMode = true;
  }

  #speedInside(rpm: number, us: number, coarse: boolean): void {
    const open = this.#open!;
    if (open.speed.us.length < C.mostReadings) {
      open.speed.us.push(us);
      open.speed.rpm.push(rpm);
    }
    const byMode = open.byMode && us - this.#modeUs <= C.modeSilentSeconds * 1e6;
    if (rpm >= T.runningRpm && Number.isNaN(open.firedUs)) open.firedUs = us;
    const hangs = us - open.firedUs > C.overrunSeconds * 1e6;
    if (byMode && !hangs) return;
    if (hangs) {
      this.#hangs = true;
      this.#release(open.firedUs);
    } else if (rpm >= T.runningRpm || rpm < C.stillRpm) {
      open.coarse ||= coarse;
      this.#release(us);
    }
  }

  /** Whether a reading belongs to the crank just released: it fires after all, or turns on. */
  #speedAfter(rpm: number, us: number): boolean {
    const last = this.#released;
    if (last === null) return false;
    last.speedAfterUs = us;
    const soon = us - last.releaseUs <= C.firedWithinSeconds * 1e6;
    if (rpm >= T.runningRpm && soon && Number.isNaN(last.firedUs)) last.firedUs = us;
    if (last.byMode || !this.#resumes(us) || rpm < T.turnsLeastRpm) return soon && rpm >= C.stillRpm;
    [this.#open, this.#released] = [last, null];
    return true;
  }

  #speedOutside(rpm: number, at: At, first: boolean): void {
    const still = this.#still;
    if (first && rpm >= T.turnsLeastRpm && rpm < T.runningRpm) this.#begin(at, { byMode: false, begun: true });
    else if (!Number.isNaN(still.us) && rpm >= T.turnsLeastRpm) {
      this.#begin(still, { byMode: false, begun: false });
      this.#open!.coarse = at.us - still.us > C.edgeSeconds * 1e6;
    }
    if (this.#open !== null) this.#speedInside(rpm, at.us, false);
  }

  #resumes(us: number): boolean {
    const last = this.#released;
    return last !== null && Number.isNaN(last.firedUs) && !last.cut && us - last.releaseUs < T.dropoutSeconds * 1e6;
  }

  /** Contact lost and regained belongs to one crank. */
  #resumeOrBegin(at: At, how: How): void {
    const last = this.#released;
    if (last === null || !last.byMode || !this.#resumes(at.us)) return this.#begin(at, how);
    last.dropouts++;
    last.dropoutSeconds += (at.us - last.releaseUs) / 1e6;
    [this.#open, this.#released] = [last, null];
  }

  #begin(at: At, { byMode, begun }: How): void {
    this.#settle();
    this.#still = { us: unknown, line: 0 };
    const wasRunning = this.#rpm >= T.runningRpm && at.us - this.#rpmUs <= C.modeSilentSeconds * 1e6;
    this.#open = {
      onsetUs: at.us,
      line: at.line,
      byMode,
      begun,
      coarse: false,
      wasRunning,
      cut: false,
      releaseUs: unknown,
      firedUs: wasRunning ? at.us : unknown,
      dropouts: 0,
      dropoutSeconds: 0,
      speedAfterUs: unknown,
      speed: { us: [], rpm: [] },
      volts: this.#recent.map(({ us, volts }) => ({ us: [...us], volts: [...volts] })),
      ranUs: this.#ranUs,
      tempC: this.temperatures.coldCoolant(at.us, this.#ranUs),
    };
  }

  #release(us: number): void {
    const open = this.#open!;
    open.releaseUs = us;
    [this.#open, this.#released] = [null, open];
  }

  #settle(): void {
    const last = this.#released;
    this.#released = null;
    if (last === null || isNothing(last)) return;
    const ambientC = this.temperatures.ambientNear(last.onsetUs);
    if (!Number.isNaN(ambientC)) last.tempC = ambientC;
    this.rows.push(canRow(last));
  }

  /** A request that was held back and then given up is a row; one that the starter followed was only made to wait. */
  #endHeldBack(us: number, givenUp: boolean): void {
    const held = this.#heldBack;
    this.#heldBack = null;
    const seconds = held === null ? unknown : (us - held.us) / 1e6;
    const asked = seconds >= PATTERN_THRESHOLDS.requestLeastSeconds && seconds <= PATTERN_THRESHOLDS.requestMostSeconds;
    if (!givenUp || held === null || !held.sure || !asked || this.#rpm >= T.runningRpm) return;
    const row = blankCanRow(held.us, held.line);
    row.form = NO_RESPONSE;
    row.restVolts = restVoltsBefore(nearestToBank(this.#recent), us, this.#ranUs);
    const ambientC = this.temperatures.ambientNear(us);
    row.tempC = Number.isNaN(ambientC) ? this.temperatures.coldCoolant(us, this.#ranUs) : ambientC;
    this.rows.push(row);
  }
}

/** Other signals may go on while one is silent: what it said before says nothing of what it says now. */
function isSilent(sinceUs: number, us: number): boolean {
  return us - sinceUs > C.recordGapSeconds * 1e6;
}

/** A blip of the mode, an engine rocking to a stop, or one that runs down as the record begins. */
function isNothing(crank: CanCrank): boolean {
  const seconds = (crank.releaseUs - crank.onsetUs) / 1e6;
  if (crank.byMode) return seconds < T.crankLeastSeconds;
  if (!Number.isNaN(crank.firedUs)) return false;
  return crank.begun || crank.cut || seconds < C.speedOnlySeconds;
}
