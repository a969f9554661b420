/**
 * What the frames of one log say: signals of SAE J1939 and J1979 one by one, trouble codes as they appear, distances
 * that disagree. A frame that bears on nothing of this is read and passed over.
 */
import { BUS_SIGNALS, type BusSignal } from '../../model/bus-signals.ts';
import type { TroubleCode } from '../../model/trouble-code.ts';
import type { Limit } from '../kinds/column-limits.ts';
import type { Lined } from '../reader.ts';
import { ANNOUNCE_PGN, BroadcastTransfers, PACKET_PGN, type Packet } from './broadcast-transfer.ts';
import { ChosenSources } from './chosen-source.ts';
import { CodeEpisodes } from './code-episodes.ts';
import { isAnswer, polledValue, storedCodes } from './j1979.ts';
import { J1939_SIGNALS, pgnOf, readSignal, sourceOf, type SignalPlace } from './j1939-signals.ts';
import { SegmentedAnswers } from './segmented-answer.ts';
import type { SignalBatch } from './signal-batch.ts';
import { ToldDistances } from './told-distances.ts';
import { ACTIVE_CODES_PGN, activeCodes } from './trouble-message.ts';

/** A control unit sends its active codes every second; silent for so long, a code was gone. Program. */
const ACTIVE_GONE_US = 60e6;
/** Stored codes are asked for now and then and stay until they are cleared. Program. */
const STORED_GONE_US = 86_400e6;
const EVERYONE = 0xff;
const OBD_PGN = 0xda00;

/** A frame with its place. */
export type Frame = Packet & { id: number; extended: boolean; line: number };
/** A value that cannot be. */
export type Impossible = { name: string; value: number; limit: Limit };

type Named = { name: string; limit: Limit; signal: BusSignal | null };

const PLACES_BY_PGN = new Map(
  J1939_SIGNALS.map(({ pgn }) => [pgn, J1939_SIGNALS.filter((place) => place.pgn === pgn)]),
);
/** One byte for each group, so that frames of no interest cost a look-up. */
const IS_READ = new Uint8Array(1 << 18);
for (const pgn of [...PLACES_BY_PGN.keys(), ACTIVE_CODES_PGN, ANNOUNCE_PGN, PACKET_PGN, OBD_PGN]) IS_READ[pgn] = 1;

export class BusReadings {
  readonly codes: Lined<TroubleCode>[] = [];
  readonly sources = new ChosenSources();
  readonly distances = new ToldDistances();
  readonly transfers = new BroadcastTransfers();
  readonly answers = new SegmentedAnswers();
  readonly #signals: SignalBatch;
  readonly #active = new CodeEpisodes(ACTIVE_GONE_US);
  readonly #stored = new CodeEpisodes(STORED_GONE_US);
  #impossible: Impossible | null = null;
  #used = false;

  constructor(signals: SignalBatch) {
    this.#signals = signals;
  }

  /** Reads a frame. Answers with a value that cannot be where the frame gave no other; null where it was used. */
  frame(frame: Frame): Impossible | null {
    if (frame.extended ? IS_READ[pgnOf(frame.id)] === 0 : !isAnswer(frame.id, false)) return null;
    this.#impossible = null;
    this.#used = false;
    if (isAnswer(frame.id, frame.extended)) this.#answer(frame);
    else this.#message(frame, pgnOf(frame.id));
    return this.#used ? null : this.#impossible;
  }

  #message(frame: Frame, pgn: number): void {
    const source = sourceOf(frame.id);
    const toAll = ((frame.id >>> 8) & 0xff) === EVERYONE;
    if (pgn === ANNOUNCE_PGN) {
      if (toAll) this.transfers.announce(source, frame);
    } else if (pgn === PACKET_PGN) {
      const whole = toAll ? this.transfers.packet(source, frame) : null;
      if (whole !== null) this.#group(whole.pgn, { ...frame, data: whole.bytes, length: whole.size });
    } else this.#group(pgn, frame);
  }

  #group(pgn: number, frame: Frame): void {
    if (pgn === ACTIVE_CODES_PGN) return this.#activeCodes(frame);
    const source = sourceOf(frame.id);
    for (const place of PLACES_BY_PGN.get(pgn) ?? []) {
      const value = readSignal(place, frame.data, frame.length);
      if (Number.isNaN(value)) continue;
      if (!this.#value(place, value, { source, frame })) continue;
      if (place.name === 'distance') this.#distance(place, value, { source, frame });
    }
  }

  #distance({ spn }: SignalPlace, km: number, { source, frame }: Sender): void {
    this.distances.read({ source, spn, km, us: frame.timeUs, line: frame.line });
  }

  /** Whether the value can be. */
  #value({ name, limit, signal }: Named, value: number, { source, frame }: Sender): boolean {
    if (!(value >= limit.least && value <= limit.most)) {
      this.#impossible ??= { name, value, limit };
      return false;
    }
    this.#used = true;
    if (signal === null) return true;
    const index = BUS_SIGNALS.indexOf(signal);
    if (this.sources.takes(index, source, frame.timeUs)) this.#signals.add(index, value, frame);
    return true;
  }

  #answer(frame: Frame): void {
    const answer = this.answers.frame(frame.id, frame);
    if (answer === null) return;
    const polled = polledValue(answer);
    if (polled !== null) this.#value(polled.polled, polled.value, { source: sourceOf(frame.id), frame });
    for (const code of storedCodes(answer) ?? [])
      if (this.#stored.begins(code, frame.timeUs)) this.#code(frame, { code, spn: null, fmi: null });
  }

  #activeCodes(frame: Frame): void {
    for (const { spn, fmi } of activeCodes(frame.data, frame.length))
      if (this.#active.begins(`${spn} ${fmi}`, frame.timeUs)) this.#code(frame, { code: null, spn, fmi });
  }

  #code({ line, timeUs }: Frame, code: Pick<TroubleCode, 'code' | 'spn' | 'fmi'>): void {
    const { unit, position } = this.#signals;
    this.codes.push({ line, row: { unit, position, timeUs, ...code } });
  }
}

type Sender = { source: number; frame: Frame };
