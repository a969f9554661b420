import { Check } from 'typebox/schema';
import { beforeAll, describe, expect, it } from 'vitest';
import type { App } from '../../api/app-context.ts';
import { buildApp } from '../../api/app.ts';
import { AWKWARD_UNITS, appOver, assessedStore, NOW_MS } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

/** What leaves the server is what /api/openapi.json says of it: held against the document itself, errors included. */
type Media = Record<string, { schema: object }>;
type Answer = { $ref?: string; content?: Media };
type Described = {
  paths: Record<string, Record<string, { responses: Record<string, Answer> }>>;
  components: { responses: Record<string, Answer> };
};

let app: App;
let described: Described;
beforeAll(async () => {
  app = await appOver(await assessedStore());
  described = (await app.inject('/api/openapi.json')).json<Described>();
});

function answerFor(path: string, method: string, status: number): Answer {
  const { responses } = described.paths[path]![method.toLowerCase()]!;
  const found = responses[String(status)] ?? responses[`${String(status)[0]}XX`];
  const named = found?.$ref?.replace('#/components/responses/', '');
  return (named === undefined ? found : described.components.responses[named]) ?? {};
}

type Asked = {
  path: string;
  url: string;
  method?: 'GET' | 'POST' | 'PUT' | 'DELETE';
  headers?: Record<string, string>;
  payload?: string;
};

async function expectDescribed(asked: Asked, status: number, of = app): Promise<string> {
  const { path, url, method = 'GET', headers = {}, payload } = asked;
  const response = await of.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
  expect([url, response.statusCode]).toEqual([url, status]);
  const { content = {} } = answerFor(path, method, status);
  const type = String(response.headers['content-type']).split(';')[0]!;
  expect(Object.keys(content)).toContain(type);
  if (type.endsWith('json')) expect([url, Check(content[type]!.schema, response.json())]).toEqual([url, true]);
  return type;
}

const UNIT = `/api/units/${encodeURIComponent('U1')}`;

describe('an answer', () => {
  it.each([
    '/healthz',
    '/api/ranking',
    '/api/imports',
    '/api/track-record',
    '/api/assessments',
    '/api/bench-tests',
    '/api/runs',
    '/api/settings',
    '/api/system-codes',
    '/api/unit-aliases',
  ])('%s', async (path) => {
    expect(await expectDescribed({ path, url: path }, 200)).toBe('application/json');
  });

  it.each(['', '/outlook', '/cranks'])('of each awkward unit: /api/units/{unit}%s', async (rest) => {
    for (const unit of AWKWARD_UNITS)
      await expectDescribed(
        { path: `/api/units/{unit}${rest}`, url: `/api/units/${encodeURIComponent(unit)}${rest}` },
        200,
      );
  });

  it('why rows of a file were set aside', async () => {
    const asked = { path: '/api/imports/{importId}/set-aside', url: '/api/imports/1/set-aside' };
    expect(await expectDescribed(asked, 200)).toBe('application/json');
  });

  it('in another media type', async () => {
    const arrow = 'application/vnd.apache.arrow.stream';
    for (const [path, url] of [
      ['/api/units/{unit}/cranks', `${UNIT}/cranks`],
      ['/api/units/{unit}/outlook', `${UNIT}/outlook`],
      ['/api/ranking', '/api/ranking'],
    ] as const)
      expect(await expectDescribed({ path, url, headers: { accept: arrow } }, 200)).toBe(arrow);
    const csv = { path: '/api/ranking', url: '/api/ranking?format=csv' };
    expect(await expectDescribed(csv, 200)).toBe('text/csv');
    expect(Object.keys(answerFor('/api/cranks/{id}/waveform', 'get', 200).content!)).toEqual([
      'application/json',
      arrow,
    ]);
  });
});

describe('an error', () => {
  const PROBLEM = 'application/problem+json';
  const json = { 'content-type': 'application/json' };

  it.each<[number, Asked]>([
    [404, { path: '/api/units/{unit}', url: '/api/units/nobody' }],
    [400, { path: '/api/ranking', url: '/api/ranking?as_of=' }],
    [404, { path: '/api/ranking', url: '/api/ranking?as_of=1999-01-01' }],
    [400, { path: '/api/units/{unit}', url: '/api/units/%ff' }],
    [404, { path: '/api/cranks/{id}/waveform', url: '/api/cranks/abc/waveform' }],
    [404, { path: '/api/bench-tests', url: '/api/bench-tests?unit=nobody' }],
    [403, { path: '/api/ranking', url: '/api/ranking', headers: { host: 'evil.example' } }],
    [
      403,
      {
        path: '/api/bookings',
        method: 'POST',
        url: '/api/bookings',
        headers: { ...json, origin: 'http://evil.example' },
        payload: '{}',
      },
    ],
    [
      415,
      {
        path: '/api/bookings',
        method: 'POST',
        url: '/api/bookings',
        headers: { 'content-type': 'text/plain' },
        payload: 'x',
      },
    ],
    [400, { path: '/api/bookings', method: 'POST', url: '/api/bookings', headers: json, payload: '{' }],
    [
      413,
      {
        path: '/api/bookings',
        method: 'POST',
        url: '/api/bookings',
        headers: json,
        payload: `"${'x'.repeat(70_000)}"`,
      },
    ],
    [400, { path: '/api/settings', method: 'PUT', url: '/api/settings', headers: json, payload: '[]' }],
    [409, { path: '/api/runs', method: 'POST', url: '/api/runs', headers: json, payload: '{"what":"backtest"}' }],
    [404, { path: '/api/deferrals/{id}', method: 'DELETE', url: '/api/deferrals/9' }],
  ])('%s of %o', async (status, asked) => {
    expect(await expectDescribed(asked, status)).toBe(PROBLEM);
  });

  it('503 of a store without data is health, and 409 what is missing', async () => {
    const empty = await appOver(memoryStore());
    expect(await expectDescribed({ path: '/healthz', url: '/healthz' }, 503, empty)).toBe('application/json');
    expect(await expectDescribed({ path: '/api/units/{unit}', url: UNIT }, 409, empty)).toBe(PROBLEM);
  });

  it('stands with every route', () => {
    for (const [path, operations] of Object.entries(described.paths))
      for (const method of Object.keys(operations))
        for (const status of [418, 599])
          expect([path, method, Object.keys(answerFor(path, method, status).content ?? {})]).toEqual([
            path,
            method,
            [PROBLEM],
          ]);
  });
});

describe('the words of a refusal', () => {
  it.each([
    ['/api/track-record?limit=0', 'limit requires 1 or more, got 0 (query)'],
    ['/api/track-record?limit=x', 'limit requires a whole number, got x (query)'],
    ['/api/track-record?limit=5001', 'limit requires 5000 or less, got 5001 (query)'],
    ['/api/track-record?from=x', 'from requires a date YYYY-MM-DD, got x (query)'],
    ['/api/ranking?format=xml', 'format requires one of json, csv, got xml (query)'],
    ['/api/ranking?as_of=a&as_of=b', 'as_of requires a text, got ["a","b"] (query)'],
    ['/api/ranking?colour=red', 'query requires only fields that it knows, got colour (query)'],
    ['/api/units/U1/cranks?to=soon', 'to requires a date YYYY-MM-DD or an instant with zone, got soon (query)'],
    ['/api/units/%ff', 'address requires UTF-8 in its escapes, got others'],
  ])('%s', async (url, detail) => {
    expect((await app.inject(url)).json<{ detail: string }>().detail).toBe(detail);
  });

  it('of a body', async () => {
    const detail = async (payload: string) => {
      const headers = { 'content-type': 'application/json' };
      const response = await app.inject({ method: 'PUT', url: '/api/settings', headers, payload });
      return response.json<{ detail: string }>().detail;
    };
    expect(await detail('')).toBe('body requires JSON, got nothing');
    expect(await detail('{')).toBe('body requires JSON, got something else');
    expect(await detail('[]')).toBe('body requires an object, got [] (body)');
    expect(await detail('{"currency":"EURO"}')).toBe('currency requires a text that fits ^[A-Z]{3}$, got EURO (body)');
    expect(await detail(`{"timeZone":"${'x'.repeat(70)}"}`)).toBe(
      `timeZone requires at most 60 characters, got ${'x'.repeat(60)}… (body)`,
    );
  });
});

it.each([
  ['/api/plan', /^\/api\/plan requires a version that books replacements into bays, got/],
  ['/api/policies', /^\/api\/policies requires a version that weighs repair against replacement/],
])('%s is promised: 501, and what to do until then; no failure to be reported', async (url, words) => {
  const reported: Error[] = [];
  const options = { store: memoryStore(), storeKind: 'own' as const, webFolder: '/nowhere', now: () => NOW_MS };
  const response = await (await buildApp({ ...options, report: (error) => reported.push(error) })).inject(url);
  expect(reported).toEqual([]);
  expect([response.statusCode, response.headers['content-type']]).toEqual([501, 'application/problem+json']);
  expect(response.json()).toMatchObject({
    detail: expect.stringMatching(words),
    remedy: expect.stringMatching(/^Until then/),
  });
});

it('a unit number of two hundred characters has an address in any script', async () => {
  for (const character of ['x', 'ж', '車', '🚛']) {
    const unit = character.repeat(200 / character.length);
    const response = await app.inject(`/api/units/${encodeURIComponent(unit)}`);
    expect(response.json<{ detail: string }>().detail).toBe(`unit requires a number that was loaded, got ${unit}`);
  }
});

it('JSON is had by who takes anything, or refuses the other', async () => {
  for (const accept of ['*/*', 'application/*', 'text/html', 'application/vnd.apache.arrow.stream;q=0']) {
    const { headers } = await app.inject({ url: '/api/ranking', headers: { accept } });
    expect([accept, headers['content-type']]).toEqual([accept, 'application/json']);
  }
});
