/**
 * What is a row though no motor turned: a heater, a solenoid that pulls in for nothing, a request that nothing answers.
 */
import { PATTERNS, qualityBit, type Pattern } from '../model/words.ts';
import { blankRow, type MeasuredRow } from './measured-row.ts';
import type { RestLevel } from './rest-level.ts';
import { controlVoltsIn } from './start-request.ts';
import { secondsBetween } from './time-window.ts';
import type { Trace } from './trace.ts';

/** Samples [at, to). `rest` is null where the level before is not known. */
export type Still = {
  kind: 'still';
  form: Extract<Pattern, 'preheat' | 'solenoid_only' | 'no_response'>;
  at: number;
  to: number;
  rest: RestLevel | null;
  /** A heater even if no start follows; a solenoid, but a heater if one follows at once. */
  isPlain?: boolean;
  isEither?: boolean;
  /** Its beginning lies before the record's. */
  isBegun?: boolean;
};

export function stillRow(trace: Trace, { form, at, to, rest, isBegun = false }: Still): MeasuredRow {
  const { recording } = trace;
  const row = blankRow(trace, at);
  row.form = PATTERNS.indexOf(form);
  if (rest?.reportable) row.restVolts = rest.volts;
  if (isBegun) row.quality = qualityBit('begun_before_record') + qualityBit('no_rest');
  else if (form !== 'no_response') row.crankSeconds = secondsBetween(recording, at, Math.min(to, recording.count - 1));
  if (form !== 'preheat') row.controlVolts = controlVoltsIn(recording, at, Math.min(to, recording.count));
  return row;
}
