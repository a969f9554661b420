import { failureOf } from './calls.ts';
import { finishedEngine } from './finish-stale.ts';
import type { FinishAnswer, FinishTask } from './tasks.ts';
import type { Engine } from '../model/unit.ts';

/** Finishes the engines that come through the port, until it is closed. The store is loaded only where it is needed. */
export function serveEngines({ store: path, newest, engines }: FinishTask): void {
  const opening = import('../store/open-store.ts').then(async ({ openStore }) => openStore(path, { readonly: true }));
  const answer = async (engine: Engine): Promise<FinishAnswer> => {
    const { engineId } = engine;
    try {
      return { engineId, finished: await finishedEngine(await opening, engine, newest) };
    } catch (error) {
      return { engineId, failed: failureOf(error) };
    }
  };
  engines.on(
    'message',
    (engine: Engine) => void answer(engine).then((done) => engines.postMessage(done, partsOf(done))),
  );
  engines.on('close', () => void opening.then((store) => store.close()));
}

/** The memory of a finished table goes over to the thread that writes it; its columns share one piece. */
function partsOf(answer: FinishAnswer): ArrayBuffer[] {
  if ('failed' in answer) return [];
  const { table, keep } = answer.finished;
  return [...new Set([...Object.values(table.columns), keep].map(({ buffer }) => buffer as ArrayBuffer))];
}
