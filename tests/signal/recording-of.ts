import { VOLTS_ALONE, type Recording } from '../../etl/model/samples.ts';

type Channels = Partial<Pick<Recording, 'amps' | 'rpm' | 'tempC' | 'startRequest' | 'controlVolts'>>;

/** Evenly sampled volts as a recording, with what other channels a test gives. */
export function recordingOf(volts: readonly number[], rateHz: number, channels: Channels = {}): Recording {
  return {
    unit: 'U1',
    position: '',
    count: volts.length,
    timeUs: Float64Array.from(volts, (_, i) => 1_700_000_000_000_000 + Math.round((i * 1e6) / rateHz)),
    volts: Float64Array.from(volts),
    ...VOLTS_ALONE,
    line: Float64Array.from(volts, (_, i) => i + 2),
    ...channels,
  };
}
