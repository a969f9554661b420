import { ProblemError } from '../problem-error.ts';
import type { Engine, Unit } from '../../etl/model/unit.ts';
import type { Store } from '../../etl/store/store.ts';

/** What is known of a unit number: its register row (null while rows wait for it) and its engines. */
export type KnownUnit = { unit: string; registered: Unit | null; engines: Engine[] };

/**
 * Changes whenever an engine's cranks are finished: while a load is at that, its file is there already, and what is
 * answered of the cranks is still the former.
 */
export async function cranksState(store: Store, engines: readonly Engine[]): Promise<string> {
  return JSON.stringify(await Promise.all(engines.map(async (engine) => store.standing(engine))));
}

/** The unit that goes by this number, or of which it is another spelling. */
export async function requireUnit(store: Store, spelling: string): Promise<KnownUnit> {
  const unit = await store.unitName(spelling);
  const [registered, engines, waiting] = await Promise.all([store.unit(unit), store.engines(), store.waiting()]);
  const own = engines.filter((each) => each.unit === unit);
  if (registered !== null || own.length > 0 || waiting.some((each) => each.unit === unit))
    return { unit, registered, engines: own };
  throw new ProblemError(
    404,
    `unit requires a number that was loaded, got ${unit}`,
    'Look it up in the ranking, or load its register row and logs.',
  );
}
