import { Type } from 'typebox';
import type { App, AppContext } from '../app-context.ts';
import { Waveform } from '../contract/unit.ts';
import { arrowStream } from '../export/arrow-writer.ts';
import { columns } from '../export/export-table.ts';
import { accepts, ARROW_STREAM } from '../plugins/accepted-type.ts';
import { waveformView } from '../views/waveform-view.ts';

const Params = Type.Object({ id: Type.String({ description: 'ENGINE-MICROSECONDS, as listed with the unit' }) });
const COLUMNS = columns('number', 'seconds', 'volts', 'amps');

/** The kept samples about one crank, by seconds from onset: JSON, or an Arrow stream. */
export function crankWaveformRoute(app: App, { store, answers }: AppContext): void {
  const schema = { params: Params, response: { 200: Waveform }, summary: 'The waveform of one crank' };
  app.get(
    '/api/cranks/:id/waveform',
    { schema, config: { cached: true, alsoAs: [ARROW_STREAM] } },
    async (request, reply) => {
      const view = await waveformView(store, request.params.id);
      // The pattern follows when a load has finished the cranks, some time after its file has come.
      const parts = ['waveform', view.id, view.pattern, await store.inputsVersion()];
      if (!accepts(request.headers.accept, ARROW_STREAM))
        return answers.send(
          { request, reply },
          { parts, type: 'application/json', make: async () => JSON.stringify(view) },
        );
      const rows = view.seconds.map((seconds, index) => [seconds, view.volts[index]!, view.amps?.[index] ?? null]);
      return answers.send(
        { request, reply },
        { parts, type: ARROW_STREAM, make: async () => arrowStream(COLUMNS, rows) },
      );
    },
  );
}
