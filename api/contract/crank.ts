import { Type, type Static } from 'typebox';
import { OUTCOMES, PATTERNS, SOURCES, SUSPECTS } from '../../etl/model/words.ts';
import { instant, nullable, number, text } from './scalars.ts';

/** One crank as it is known after all files: the fields of the export `cranks`. */
export const CrankRow = Type.Object({
  id: text,
  unit: text,
  position: text,
  at: instant,
  /** Onset, microseconds since 1970 UTC. */
  timeUs: Type.Integer(),
  source: Type.Enum([...SOURCES]),
  restVolts: nullable(number),
  dipVolts: nullable(number),
  crankVolts: nullable(number),
  chargeVolts: nullable(number),
  crankSeconds: nullable(number),
  crankRpm: nullable(number),
  rippleHz: nullable(number),
  sagRatio: nullable(number),
  ampsPeak: nullable(number),
  tempC: nullable(number),
  dropouts: nullable(number),
  dropoutSeconds: nullable(number),
  pattern: nullable(Type.Enum([...PATTERNS])),
  suspect: nullable(Type.Enum([...SUSPECTS])),
  outcome: nullable(Type.Enum([...OUTCOMES])),
  startId: nullable(text),
  quality: text,
  file: text,
  line: nullable(number),
  /** Weakest over strongest cylinder, 0 to 1, by the ripple. */
  relativeCompression: nullable(number),
  /** Why it points to its suspect, in words with numbers. */
  evidence: Type.Array(text),
});
export type CrankRow = Static<typeof CrankRow>;

export const Cranks = Type.Object({ unit: text, cranks: Type.Array(CrankRow) });
export type Cranks = Static<typeof Cranks>;
