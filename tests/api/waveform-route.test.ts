import { tableFromIPC } from 'apache-arrow';
import { Value } from 'typebox/value';
import { expect, it } from 'vitest';
import { Waveform } from '../../api/contract/unit.ts';
import { encodeWaveform } from '../../etl/signal/waveform-codec.ts';
import { appOver, assessedStore, awkwardFleet } from '../support/fleet-app.ts';

const onsetUs = 1_773_100_800_123_456;
const samples = {
  timeUs: Float64Array.of(onsetUs - 500_000, onsetUs, onsetUs + 10_000),
  volts: Float64Array.of(12.6, 9.1, 7.2),
  amps: Float64Array.of(0, Number.NaN, 780),
};
const store = await assessedStore({
  ...awkwardFleet(),
  waveforms: new Map([[`1-${onsetUs}`, encodeWaveform(samples)]]),
});
const app = await appOver(store);
const url = `/api/cranks/1-${onsetUs}/waveform`;

it('a kept waveform is given by seconds from onset, by its schema', async () => {
  const answer = (await app.inject(url)).json<Waveform>();
  expect([...Value.Errors(Waveform, answer)]).toEqual([]);
  expect(answer).toEqual({
    id: `1-${onsetUs}`,
    unit: 'U1',
    position: '',
    at: '2026-03-10T00:00:00.123456Z',
    pattern: 'steady',
    seconds: [-0.5, 0, 0.01],
    volts: [12.6, 9.1, 7.2],
    amps: [0, null, 780],
  });
});

it('the same as an Arrow stream', async () => {
  const response = await app.inject({ url, headers: { accept: 'application/vnd.apache.arrow.stream' } });
  const table = tableFromIPC(response.rawPayload);
  expect([...table.getChild('volts')!]).toEqual([12.6, 9.1, 7.2]);
  expect(table.getChild('amps')!.get(1)).toBeNull();
});

it.each(['1-5', '99-1773100800123456', '../../x', '1', '', '1-2-3'])(
  'no waveform under %s: 404 and what to do',
  async (id) => {
    const response = await app.inject(`/api/cranks/${encodeURIComponent(id)}/waveform`);
    expect([response.statusCode, response.headers['content-type']]).toEqual([404, 'application/problem+json']);
  },
);

it('the unit lists it', async () => {
  const view = (await app.inject('/api/units/U1')).json<{ waveforms: unknown }>();
  expect(view.waveforms).toEqual([
    { id: `1-${onsetUs}`, position: '', at: '2026-03-10T00:00:00.123456Z', pattern: 'steady', suspect: null },
  ]);
});
