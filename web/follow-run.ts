/** Waits for what runs beside the server to end. */
import type { Run, Runs } from '../api/contract/run.ts';
import type { ApiClient } from './api-client.ts';

/** How often to ask: often enough to be followed, and that nobody waits for the asking where the work is short. */
const ASK_EVERY_MS = 500;

type Following = { stop: AbortSignal; onLook?: (runs: Runs) => void };

/** Null once nobody listens any more, or where nothing has run. Throws what the client throws. */
export async function followRun(client: Pick<ApiClient, 'runs'>, { stop, onLook }: Following): Promise<Run | null> {
  for (;;) {
    const runs = await client.runs();
    if (stop.aborted) return null;
    onLook?.(runs);
    if (runs.run?.state !== 'running') return runs.run;
    await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS));
  }
}
