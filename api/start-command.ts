import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { setPriority } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { StartCommand } from './background-runs.ts';

/** Lets the answers of the server go first (nice value, 0 is usual, 19 the last). Common practice. */
const BEHIND_THE_SERVER = 10;

/** Commands as processes beside the server. `stop` ends the one that runs: nothing half-done stays in the store. */
export function commandStarter(store: string): { startCommand: StartCommand; stop: () => void } {
  let running: ChildProcess | null = null;
  return {
    stop: () => void running?.kill('SIGTERM'),
    async startCommand(words, onWords) {
      const command = [join(import.meta.dirname, 'cli.js'), ...words, '--store', store];
      const child = spawn(process.execPath, command, { stdio: ['ignore', 'ignore', 'pipe'] });
      running = child;
      if (child.pid !== undefined) setPriority(child.pid, BEHIND_THE_SERVER);
      createInterface({ input: child.stderr }).on('line', onWords);
      const [code] = (await once(child, 'close')) as [number | null];
      running = null;
      return code ?? 1;
    },
  };
}
