import { connect, type AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { App } from '../../api/app-context.ts';
import { appOver } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

let app: App;
let port: number;
beforeAll(async () => {
  app = await appOver(memoryStore());
  await app.listen({ host: '127.0.0.1', port: 0 });
  ({ port } = app.server.address() as AddressInfo);
});
afterAll(async () => app.close());

it.each([
  ['no HTTP', 'GARBAGE\r\n\r\n', 400, 'connection requires a request of HTTP/1.1, got something else'],
  ['an unknown method', 'FOO / HTTP/1.1\r\nHost: localhost\r\n\r\n', 400, /^connection requires/],
  [
    'headers without end',
    `GET / HTTP/1.1\r\nHost: localhost\r\nX: ${'a'.repeat(20_000)}\r\n\r\n`,
    431,
    'request requires headers of at most 16 KiB, got more',
  ],
])('%s is answered as every other error', async (_name, request, status, detail) => {
  const socket = connect(port, '127.0.0.1');
  socket.write(request);
  const [head = '', body = ''] = (await text(socket)).split('\r\n\r\n');
  expect(head).toMatch(new RegExp(`^HTTP/1.1 ${status} .*\r\nContent-Type: application/problem\\+json\r\n`));
  expect(JSON.parse(body)).toEqual({
    type: 'about:blank',
    title: expect.any(String),
    status,
    detail: expect.stringMatching(detail),
    remedy: expect.stringMatching(/\.$/),
  });
});

it('a method that an address does not serve is answered 405 with those it does', async () => {
  // RFC 9110, section 15.5.6: the answer must hold Allow.
  const refused = await app.inject({ method: 'DELETE', url: '/api/ranking' });
  expect([refused.statusCode, refused.headers['allow']]).toEqual([405, 'GET, HEAD']);
  expect(refused.headers['content-type']).toBe('application/problem+json');
  expect(refused.json()).toMatchObject({ detail: '/api/ranking requires GET, HEAD, got DELETE' });
  const read = await app.inject({ method: 'GET', url: '/api/bookings' });
  expect([read.statusCode, read.headers['allow']]).toEqual([405, 'POST']);
  expect((await app.inject({ method: 'DELETE', url: '/api/nowhere' })).statusCode).toBe(404);
});
