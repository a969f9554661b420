/** The only file that asks the server. Every failure becomes a Problem that says what to do. */
import type { Assessments } from '../api/contract/assessments.ts';
import type { Imports, ImportSetAside } from '../api/contract/imports.ts';
import type { BookingRequest, DeferralRequest, Ranking } from '../api/contract/ranking.ts';
import type { TrackRecord } from '../api/contract/track-record.ts';
import type { Reading } from '../api/contract/reading.ts';
import type { RunRequest, Runs } from '../api/contract/run.ts';
import type { SettingsAnswer, SettingsPatch } from '../api/contract/settings.ts';
import type { SystemCodes } from '../api/contract/system-codes.ts';
import type { UnitView, Waveform } from '../api/contract/unit.ts';
import type { AliasRequest, UnitAliases } from '../api/contract/unit-aliases.ts';
import type { Problem } from './page-state.ts';

export class RequestFailed extends Error {
  override name = 'RequestFailed';
  readonly problem: Problem;
  /** HTTP status of the refusal; null where no answer came. */
  readonly status: number | null;
  constructor(problem: Problem, status: number | null = null) {
    super(`${problem.title}: ${problem.detail}`);
    this.problem = problem;
    this.status = status;
  }
}

export type ApiClient = {
  /** The ranking as last fetched, so that going back to the list shows it at once. */
  heldRanking(): Ranking | null;
  ranking(): Promise<Ranking>;
  rankingCsv(): Promise<string>;
  /** `query` as the address has it: `?component=battery`. */
  trackRecord(query: string): Promise<TrackRecord>;
  /** `asOf` '' is the newest assessed day. */
  unit(unit: string, asOf: string): Promise<UnitView>;
  assessments(): Promise<Assessments>;
  imports(): Promise<Imports>;
  importSetAside(importId: number): Promise<ImportSetAside>;
  /** Begins beside the server: `runs` tells when it is done. */
  takeBackImport(importId: number): Promise<void>;
  unitAliases(): Promise<UnitAliases>;
  acceptAliases(request: AliasRequest): Promise<void>;
  keepApart(request: AliasRequest): Promise<void>;
  askAgain(unit: string, other: string): Promise<void>;
  takeBackAlias(spelling: string): Promise<void>;
  runs(): Promise<Runs>;
  startRun(request: RunRequest): Promise<void>;
  settings(): Promise<SettingsAnswer>;
  saveSettings(patch: SettingsPatch): Promise<SettingsAnswer>;
  systemCodes(): Promise<SystemCodes>;
  waveform(id: string): Promise<Waveform>;
  book(request: BookingRequest): Promise<void>;
  withdrawBooking(bookingId: number): Promise<void>;
  defer(request: DeferralRequest): Promise<void>;
  withdrawDeferral(deferralId: number): Promise<void>;
  correctReading(unit: string, workOrder: string, readings: readonly Reading[]): Promise<void>;
  withdrawReading(unit: string, workOrder: string): Promise<void>;
};

export const RANKING_CSV = '/api/ranking?format=csv';

export function createApiClient(request: typeof fetch): ApiClient {
  let held: Ranking | null = null;
  const get = async <Answer>(path: string) => (await answer(request, path)).json() as Promise<Answer>;
  const send = (method: 'POST' | 'PUT' | 'DELETE', path: string, body?: unknown) => {
    const json = { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
    return answer(request, path, { method, ...(body === undefined ? {} : json) });
  };
  const decide = async (method: 'POST' | 'DELETE', path: string, body?: unknown) => {
    await send(method, path, body);
  };
  return {
    heldRanking: () => held,
    ranking: async () => (held = await get<Ranking>('/api/ranking')),
    rankingCsv: async () => (await answer(request, RANKING_CSV)).text(),
    trackRecord: (query) => get<TrackRecord>(`/api/track-record${query}`),
    unit: (unit, asOf) => get<UnitView>(`/api/units/${encodeURIComponent(unit)}${asOfQuery(asOf)}`),
    assessments: () => get<Assessments>('/api/assessments'),
    imports: () => get<Imports>('/api/imports'),
    importSetAside: (importId) => get<ImportSetAside>(`/api/imports/${importId}/set-aside`),
    takeBackImport: (importId) => decide('DELETE', `/api/imports/${importId}`),
    unitAliases: () => get<UnitAliases>('/api/unit-aliases'),
    acceptAliases: (request) => decide('POST', '/api/unit-aliases', request),
    keepApart: (request) => decide('POST', '/api/unit-distinctions', request),
    askAgain: (unit, other) =>
      decide('DELETE', `/api/unit-distinctions/${encodeURIComponent(unit)}/${encodeURIComponent(other)}`),
    takeBackAlias: (spelling) => decide('DELETE', `/api/unit-aliases/${encodeURIComponent(spelling)}`),
    runs: () => get<Runs>('/api/runs'),
    startRun: (request) => decide('POST', '/api/runs', request),
    settings: () => get<SettingsAnswer>('/api/settings'),
    saveSettings: async (patch) => (await send('PUT', '/api/settings', patch)).json() as Promise<SettingsAnswer>,
    systemCodes: () => get<SystemCodes>('/api/system-codes'),
    waveform: (id) => get<Waveform>(`/api/cranks/${encodeURIComponent(id)}/waveform`),
    book: (request) => decide('POST', '/api/bookings', request),
    withdrawBooking: (bookingId) => decide('DELETE', `/api/bookings/${bookingId}`),
    defer: (request) => decide('POST', '/api/deferrals', request),
    withdrawDeferral: (deferralId) => decide('DELETE', `/api/deferrals/${deferralId}`),
    correctReading: (unit, workOrder, readings) => decide('POST', readingPath(unit, workOrder), { readings }),
    withdrawReading: (unit, workOrder) => decide('DELETE', readingPath(unit, workOrder)),
  };
}

function asOfQuery(asOf: string): string {
  return asOf === '' ? '' : `?as_of=${encodeURIComponent(asOf)}`;
}

function readingPath(unit: string, workOrder: string): string {
  return `/api/work-orders/${encodeURIComponent(unit)}/${encodeURIComponent(workOrder)}/reading`;
}

async function answer(request: typeof fetch, path: string, options: RequestInit = {}): Promise<Response> {
  let response: Response;
  try {
    // Always ask whether the copy at hand is still good: the list must not be yesterday's.
    response = await request(path, { cache: 'no-cache', ...options });
  } catch {
    throw new RequestFailed({
      title: 'The server does not answer',
      detail: 'Nothing came back from the address that this page was loaded from.',
      remedy: 'See whether the program still runs in its terminal, start it again, then reload this page.',
    });
  }
  if (response.ok) return response;
  throw new RequestFailed(await readProblem(response), response.status);
}

/** Problem details (RFC 9457) → words. What is not problem details still gives its status. */
async function readProblem(response: Response): Promise<Problem> {
  const body: unknown = await response.json().catch(() => null);
  const given = (typeof body === 'object' && body !== null ? body : {}) as Record<string, unknown>;
  const text = (name: string) => (typeof given[name] === 'string' ? given[name] : '');
  return {
    // `about:blank` says that the title is the status' own name, which tells nobody in a workshop anything.
    title: (text('type') === 'about:blank' ? '' : text('title')) || titleFor(response.status),
    detail: text('detail') || 'It gave no further reason.',
    remedy: text('remedy') || remedyFor(response.status),
  };
}

function titleFor(status: number): string {
  if (status === 404) return 'It is not known here';
  if (status === 409) return 'It cannot be done as things stand';
  if (status === 400 || status === 422) return 'What was entered cannot be used';
  return `The server answered ${status}`;
}

function remedyFor(status: number): string {
  if (status === 404) return 'Go back to the list: the unit may stand there under another number.';
  if (status === 409) return 'Reload the page: somebody else may have decided in the meantime.';
  if (status < 500) return 'Correct what was entered and try again.';
  return 'Try again; if it stays, the program’s terminal says more.';
}

/** The same in one line, for a page that stays as it is. */
export function problemWords(error: unknown): string {
  const { title, detail, remedy } = problemOf(error);
  return [title, detail, remedy].map((words) => (/[.!?]$/.test(words) ? words : `${words}.`)).join(' ');
}

/** What to show for anything thrown on the way. */
export function problemOf(error: unknown): Problem {
  if (error instanceof RequestFailed) return error.problem;
  return {
    title: 'This page could not be drawn',
    detail: error instanceof Error ? error.message : String(error),
    remedy: 'Reload the page; if it stays, report the sentence above.',
  };
}
