import { MessageChannel, type MessagePort } from 'node:worker_threads';
import type { FinishedEngine, Finisher } from './finish-stale.ts';
import { errorOf } from './calls.ts';
import type { Hand } from './crew.ts';
import type { FinishAnswer, FinishTask } from './tasks.ts';
import type { Engine } from '../model/unit.ts';

/** Engines that a thread has at a time: while one is written, the next is read. */
const AHEAD = 2;

type Waiting = { resolve: (finished: FinishedEngine) => void; reject: (error: Error) => void };

/** Reads and finishes engines in threads, each with a connection of its own that reads only. */
export function finishInThreads(hands: readonly Hand[], store: string, newest: number): Finisher {
  const waiting = new Map<number, Waiting>();
  const ports = hands.map((hand) => engagedPort(hand, { store, newest }, waiting));
  let next = 0;
  return {
    width: ports.length * AHEAD,
    finish: async (engine: Engine) =>
      new Promise<FinishedEngine>((resolve, reject) => {
        waiting.set(engine.engineId, { resolve, reject });
        ports[next++ % ports.length]!.postMessage(engine);
      }),
    close() {
      for (const port of ports) port.close();
    },
  };
}

function engagedPort(
  { worker, ended }: Hand,
  task: Omit<FinishTask, 'engines'>,
  waiting: Map<number, Waiting>,
): MessagePort {
  const { port1: port, port2: engines } = new MessageChannel();
  port.on('message', (answer: FinishAnswer) => {
    const asked = waiting.get(answer.engineId)!;
    waiting.delete(answer.engineId);
    if ('failed' in answer) asked.reject(errorOf(answer.failed));
    else asked.resolve(answer.finished);
  });
  void ended.then((why) => {
    const error = new Error(`finishing requires a thread that lives, got its end: ${why} (load)`);
    for (const { reject } of waiting.values()) reject(error);
  });
  worker.postMessage({ ...task, engines } satisfies FinishTask, [engines]);
  return port;
}
