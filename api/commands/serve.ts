import { finishWithJobs } from '../../etl/loading/finish-with-jobs.ts';
import { openStore } from '../../etl/store/open-store.ts';
import type { Store } from '../../etl/store/store.ts';
import { sampleStorePath, storePath, webFolder } from '../config.ts';
import { commandStarter } from '../start-command.ts';
import { answer, command, type AddCommand, type CommandContext, type CommonOptions } from './command.ts';
import { counted } from '../../etl/model/counted.ts';
import { defaultJobs } from './jobs-option.ts';

/** `serve`: the API and the dashboard, until it is stopped. */
export const addServe: AddCommand = (program, context) => {
  const serve = command('serve', 'serve the API and the dashboard', [
    'crankledger serve',
    'crankledger serve --port 8080',
  ]);
  serve.option('--port <n>', 'port (default: 4680, or the next free one)');
  serve.option('--host <host>', 'a name of this machine (default: 127.0.0.1)');
  serve.action(async (options: CommonOptions & { port?: string; host?: string }) => {
    await serveStore(storePath(options.store, context.env), context, {
      host: options.host,
      port: options.port === undefined ? undefined : portNumber(options.port),
      json: options.json === true,
    });
  });
  program.addCommand(serve);
};

/** Where the server listens; where unsaid, on loopback at the first free port from 4680 on. */
export type Listening = { host?: string | undefined; port?: number | undefined };

/** Serves a store until SIGINT or SIGTERM, saying which and where. */
export async function serveStore(
  path: string,
  context: CommandContext,
  options: Listening & { json?: boolean; begin?: 'backtest' },
): Promise<void> {
  const { console, env, now } = context;
  // The server's libraries are loaded by who serves: every other command starts in half the time.
  const { listen } = await import('../server.ts');
  const store = await openStore(path);
  const storeKind = path === sampleStorePath(env) ? 'sample' : 'own';
  try {
    await finishCranks(store, console);
    const report = (error: Error) => console.note(error.stack ?? error.message);
    const commands = commandStarter(path);
    const storeOption = path === storePath(undefined, env) ? '' : ` --store ${shellWord(path)}`;
    const served = { store, storeKind, storeOption, startCommand: commands.startCommand } as const;
    const begin = options.begin === undefined ? {} : { begin: options.begin };
    const { app, address } = await listen({ ...served, ...begin, webFolder: webFolder(), now, report }, options);
    const which = storeKind === 'sample' ? 'the invented sample fleet' : 'your own fleet';
    console.note(`showing ${which}, store ${path}`);
    await answer({ json: options.json === true }, context, {
      value: { address, store: path, storeKind },
      words: `${address}\n`,
    });
    await new Promise<void>((stop) => {
      process.once('SIGINT', () => stop());
      process.once('SIGTERM', () => stop());
    });
    commands.stop();
    await app.close();
  } finally {
    store.close();
  }
}

/** What a killed load has left behind, or what an older program has finished in another way: pages would lack it. */
async function finishCranks(store: Store, console: CommandContext['console']): Promise<void> {
  const stale = (await store.staleEngines()).length;
  if (stale === 0) return;
  console.note(`bringing the cranks of ${counted(stale, 'engine')} up to date`);
  await finishWithJobs(store, defaultJobs());
}

/** As it has to be written in a shell: bare where nothing in it means anything there. */
function shellWord(text: string): string {
  return /^[\w./-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;
}

export function portNumber(text: string): number {
  const port = Number(text);
  if (!/^\d{1,5}$/.test(text) || port > 65_535) throw new RangeError(`port requires 0 to 65535, got ${text} (--port)`);
  return port;
}
