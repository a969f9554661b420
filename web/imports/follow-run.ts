/** Waits for what runs beside the server to end. */
import type { Run } from '../../api/contract/run.ts';
import type { ApiClient } from '../api-client.ts';

/** Short work ends within a second or two: asked often enough that nobody waits for the asking. */
const ASK_EVERY_MS = 500;

/** Null once nobody listens any more, or where nothing has run. */
export async function followRun(client: Pick<ApiClient, 'runs'>, stop: AbortSignal): Promise<Run | null> {
  for (;;) {
    const { run } = await client.runs();
    if (stop.aborted) return null;
    if (run === null || run.state !== 'running') return run;
    await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS));
  }
}
