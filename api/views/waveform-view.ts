import type { Waveform } from '../contract/unit.ts';
import { ProblemError } from '../problem-error.ts';
import { decodeWaveform } from '../../etl/signal/waveform-codec.ts';
import { orNull } from '../../etl/model/missing.ts';
import { isoInstant, US_PER_SECOND } from '../../etl/model/time.ts';
import { PATTERNS, type Pattern } from '../../etl/model/words.ts';
import type { Engine } from '../../etl/model/unit.ts';
import type { Store } from '../../etl/store/store.ts';
import { readCrankId } from './crank-view.ts';

/** The kept samples about one crank. */
export async function waveformView(store: Store, id: string): Promise<Waveform> {
  const { engineId, crankUs } = readCrankId(id);
  const engine = (await store.engines()).find((each) => each.engineId === engineId);
  const bytes = engine === undefined ? null : await store.waveform(engine, crankUs);
  if (engine === undefined || bytes === null)
    throw new ProblemError(
      404,
      `waveform requires a crank whose samples are kept, got ${id}`,
      'The unit’s page lists the cranks whose waveform is kept.',
    );
  const { timeUs, volts, amps } = decodeWaveform(bytes);
  return {
    id,
    unit: engine.unit,
    position: engine.position,
    at: isoInstant(crankUs),
    pattern: await patternOf(store, engine, crankUs),
    seconds: Array.from(timeUs, (us) => (us - crankUs) / US_PER_SECOND),
    volts: [...volts],
    amps: amps === null ? null : Array.from(amps, orNull),
  };
}

async function patternOf(store: Store, engine: Engine, crankUs: number): Promise<Pattern> {
  const table = await store.finished(engine);
  const index = table?.columns.timeUs.indexOf(crankUs) ?? -1;
  return PATTERNS[table?.columns.pattern[index] ?? -1] ?? 'unreadable';
}
