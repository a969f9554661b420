import { Type, type Static } from 'typebox';
import { instant, nullable, number, text } from './scalars.ts';

/** The bench and on-vehicle tests with what they should read, and what was measured. */
export const BenchTests = Type.Object({
  tests: Type.Array(
    Type.Object({
      test: text,
      where: Type.Enum(['vehicle', 'bench']),
      unitOfMeasure: text,
      how: text,
      expected12: text,
      expected24: text,
      source: text,
    }),
  ),
  results: Type.Array(
    Type.Object({
      unit: text,
      position: text,
      at: instant,
      test: text,
      value: number,
      unitOfMeasure: text,
      note: nullable(text),
      enteredAt: nullable(instant),
    }),
    { description: 'by unit and time' },
  ),
});
export type BenchTests = Static<typeof BenchTests>;
