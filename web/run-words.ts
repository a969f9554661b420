/** What is worked out beside the server, in words: while it runs, and where it failed. */
import type { Run } from '../api/contract/run.ts';
import { date } from './format.ts';

export function runWords(run: Run | null): string {
  if (run === null || run.state === 'done') return '';
  if (run.state === 'failed') return `${subject(run)} could not be ${deed(run)}: ${run.says}`;
  return `${subject(run)} is being ${deed(run)}${run.says === '' ? '' : `: ${run.says}`} …`;
}

function subject({ what, asOf }: Run): string {
  if (what === 'unload') return 'A file';
  return what === 'backtest' ? 'The backtest' : `The assessment of ${date(asOf)}`;
}

function deed({ what }: Run): string {
  return what === 'unload' ? 'taken back' : 'worked out';
}
