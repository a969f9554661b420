import type { App, AppOptions } from './app-context.ts';
import { buildApp } from './app.ts';
import { DEFAULT_PORT } from './config.ts';

/** Listens on this machine only; where nobody asked for a port, the next free one is taken. */
export type ListenOptions = { host?: string | undefined; port?: number | undefined };
export type Listening = { app: App; address: string };

const LOOPBACK = ['127.0.0.1', 'localhost', '::1'];
const PORTS_TRIED = 20;

export async function listen(options: AppOptions, { host = '127.0.0.1', port }: ListenOptions): Promise<Listening> {
  if (!LOOPBACK.includes(host))
    throw new RangeError(
      `host requires a name of this machine (${LOOPBACK.join(', ')}) while there are no accounts, got ${host} (--host)`,
    );
  const app = await buildApp(options);
  for (let tried = port ?? DEFAULT_PORT; ; tried++)
    try {
      return { app, address: await app.listen({ host, port: tried }) };
    } catch (error) {
      const taken = error instanceof Error && 'code' in error && error.code === 'EADDRINUSE';
      if (taken && port === undefined && tried < DEFAULT_PORT + PORTS_TRIED) continue;
      await app.close();
      if (!taken) throw error;
      throw new RangeError(`port requires one that is free, got ${tried} (--port)`, { cause: error });
    }
}
