/**
 * Serves the built page with answers of a made-up fleet, under the same content policy as the real server, so that
 * the page can be tested by itself. Bookings and deferrals are kept in memory.
 */
import { createReadStream, existsSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';
import type { BookingRequest, DeferralRequest, Ranking, RankingRow } from '../../api/contract/ranking.ts';
import { webFolder } from '../../api/config.ts';
import { AS_OF, fixtureRanking, fixtureUnit, fixtureWaveform } from './fixture-fleet.ts';
import { FIXTURE_IMPORTS, FIXTURE_SET_ASIDE } from './fixture-imports.ts';
import { FIXTURE_CODES, FIXTURE_SETTINGS } from './fixture-settings.ts';
import { fixtureTrackRecord } from './fixture-track-record.ts';

const CONTENT_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";
const PAGE = webFolder();
const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
};

export type FixtureServer = { origin: string; ranking: Ranking; close: () => Promise<void> };

export async function startFixtureServer(options: {
  units: number;
  ranking?: Partial<Ranking>;
}): Promise<FixtureServer> {
  const ranking = { ...fixtureRanking(options.units), ...options.ranking };
  const rankingBytes = cached(ranking);
  const server = createServer((request, response) => {
    response.setHeader('content-security-policy', CONTENT_POLICY);
    void respond(request, response, ranking, rankingBytes);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return { origin: `http://127.0.0.1:${port}`, ranking, close: () => closed(server) };
}

function closed(server: Server): Promise<void> {
  server.closeAllConnections();
  return new Promise((resolve) => server.close(() => resolve()));
}

/** As the real server does: the bytes of an unchanged ranking are made once. */
function cached(ranking: Ranking): { get: () => string; changed: () => void } {
  let bytes: string | null = null;
  return { get: () => (bytes ??= JSON.stringify(ranking)), changed: () => (bytes = null) };
}

async function respond(
  request: IncomingMessage,
  response: ServerResponse,
  ranking: Ranking,
  bytes: ReturnType<typeof cached>,
): Promise<void> {
  const { pathname, searchParams } = new URL(request.url ?? '/', 'http://localhost');
  const parts = pathname.split('/').slice(1).map(decodeURIComponent);
  if (parts[0] !== 'api') return sendFile(response, pathname);
  if (request.method === 'POST') {
    decide(ranking, parts[1] ?? '', JSON.parse(await bodyOf(request)) as BookingRequest & DeferralRequest);
    bytes.changed();
    return sendJson(response, '{}', 201);
  }
  if (request.method === 'DELETE') {
    undo(ranking, Number(parts[2]));
    bytes.changed();
    response.writeHead(204).end();
    return;
  }
  if (parts[1] === 'ranking') return sendJson(response, bytes.get());
  if (parts[1] === 'assessments')
    return sendJson(
      response,
      JSON.stringify({ days: [{ asOf: AS_OF, asOfOn: AS_OF, computedAt: AS_OF }], storeOption: '' }),
    );
  if (parts[1] === 'runs') return sendJson(response, JSON.stringify({ canRun: true, run: null }));
  if (parts[1] === 'imports')
    return sendJson(response, JSON.stringify(parts.length === 2 ? FIXTURE_IMPORTS : FIXTURE_SET_ASIDE));
  if (parts[1] === 'settings') return sendJson(response, JSON.stringify(FIXTURE_SETTINGS));
  if (parts[1] === 'system-codes') return sendJson(response, JSON.stringify(FIXTURE_CODES));
  if (parts[1] === 'unit-aliases') return sendJson(response, JSON.stringify({ aliases: [], apart: [], offers: [] }));
  if (parts[1] === 'track-record') return sendJson(response, await fixtureTrackRecord(searchParams));
  if (parts[1] === 'cranks') return sendJson(response, JSON.stringify(fixtureWaveform(parts[2] ?? '')));
  const unit = fixtureUnit(ranking, parts[2] ?? '');
  if (unit !== null) return sendJson(response, JSON.stringify(unit));
  const problem = { title: 'No such unit', status: 404, detail: `No unit is numbered ${parts[2] ?? ''}.` };
  sendJson(response, JSON.stringify(problem), 404, 'application/problem+json');
}

function sendFile(response: ServerResponse, pathname: string): void {
  const asset = pathname.startsWith('/assets/') ? pathname : '/index.html';
  const file = join(PAGE, asset);
  if (asset.includes('..') || !existsSync(file)) {
    response.writeHead(404).end();
    return;
  }
  response.setHeader('content-type', TYPES[extname(file)] ?? 'application/octet-stream');
  createReadStream(file).pipe(response);
}

function sendJson(response: ServerResponse, body: string, status = 200, type = 'application/json'): void {
  response.writeHead(status, { 'content-type': type }).end(body);
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  let text = '';
  for await (const chunk of request) text += String(chunk);
  return text;
}

function decide(ranking: Ranking, kind: string, given: BookingRequest & DeferralRequest): void {
  const row = ranking.rows.find(
    (each) => each.unit === given.unit && each.position === given.position && each.component === given.component,
  );
  if (row === undefined) return;
  if (kind === 'bookings') row.booking = { bookingId: row.rank, bookedOn: given.bookedOn, note: given.note };
  else row.deferral = { deferralId: row.rank, untilOn: given.untilOn, reason: given.reason };
}

function undo(ranking: Ranking, id: number): void {
  const row: RankingRow | undefined = ranking.rows.find((each) => each.rank === id);
  if (row === undefined) return;
  row.booking = null;
  row.deferral = null;
}
