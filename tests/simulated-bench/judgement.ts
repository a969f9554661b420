/** Pattern and component at fault as pairs of truth and answer; where two answers are right, the one given counts as the true one. */
import type { Checked } from './compare.ts';
import type { Confusion } from './confusion.ts';

export type Pair = { truth: string; said: string };

const asked = ({ crank }: Checked) => crank.view === 'whole' && !crank.gapped && !crank.clipped;

export function patternPairs(checked: readonly Checked[]): Pair[] {
  return checked.filter(asked).map(({ crank, found }) => {
    const said = found === null ? 'not found' : found.pattern || 'none';
    return { truth: crank.borderline.some((word) => word === said) ? said : crank.pattern, said };
  });
}

/**
 * Component at fault. Where no current is logged the battery's voltage cannot tell starter from cables: `starter_loop`
 * is right for both. A control fault can be seen only where request or control voltage is logged.
 */
export function suspectPairs(checked: readonly Checked[], amps: boolean): Pair[] {
  return checked
    .filter((each) => asked(each) && each.found !== null && each.crank.pattern !== 'preheat')
    .filter(({ log }) => log.logger.logs.amps === amps)
    .filter(({ crank, log }) => crank.suspect !== 'control' || log.logger.logs.request || log.logger.logs.control)
    .map(({ crank, found, log }) => {
      const truth = crank.suspect || 'none';
      const said = found!.suspect || 'none';
      const loop = said === 'starter_loop' && (truth === 'starter' || truth === 'cables');
      const split = log.logger.logs.amps || log.logger.logs.control;
      const right = crank.alsoRight.includes(found!.suspect) || (loop && !split);
      return { truth: right ? said : truth, said };
    });
}

export type { Confusion };
