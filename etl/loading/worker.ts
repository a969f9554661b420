import { parentPort } from 'node:worker_threads';
import type { Task } from './tasks.ts';

/**
 * A thread of a load: reads files, searches what another thread reads, or finishes engines. Writes nothing. It brings in
 * what a task needs and no more: the whole program takes as long to start as 50 MB to read.
 */
parentPort?.on('message', (task: Task) => {
  if ('control' in task) void import('./serve-file.ts').then(({ serveFile }) => serveFile(task));
  else if ('engines' in task) void import('./serve-engines.ts').then(({ serveEngines }) => serveEngines(task));
  else void import('./serve-search.ts').then(({ serveSearches }) => serveSearches(task));
});
