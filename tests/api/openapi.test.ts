import { expect, it } from 'vitest';
import { appOver } from '../support/fleet-app.ts';
import { memoryStore } from '../support/memory-store.ts';

it('OpenAPI 3.1 names every route with its answers', async () => {
  const document = (await (await appOver(memoryStore())).inject('/api/openapi.json')).json<{
    openapi: string;
    paths: Record<string, Record<string, { responses: Record<string, unknown> }>>;
  }>();
  expect(document.openapi).toBe('3.1.0');
  const routes = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
  );
  expect(routes.toSorted()).toEqual([
    'DELETE /api/bookings/{id}',
    'DELETE /api/deferrals/{id}',
    'DELETE /api/imports/{importId}',
    'DELETE /api/unit-aliases/{spelling}',
    'DELETE /api/unit-distinctions/{unit}/{other}',
    'DELETE /api/work-orders/{unit}/{workOrder}/reading',
    'GET /api/assessments',
    'GET /api/bench-tests',
    'GET /api/cranks/{id}/waveform',
    'GET /api/imports',
    'GET /api/imports/{importId}/set-aside',
    'GET /api/ranking',
    'GET /api/runs',
    'GET /api/settings',
    'GET /api/system-codes',
    'GET /api/track-record',
    'GET /api/unit-aliases',
    'GET /api/units/{unit}',
    'GET /api/units/{unit}/cranks',
    'GET /api/units/{unit}/outlook',
    'GET /healthz',
    'POST /api/bookings',
    'POST /api/deferrals',
    'POST /api/runs',
    'POST /api/unit-aliases',
    'POST /api/unit-distinctions',
    'POST /api/work-orders/{unit}/{workOrder}/reading',
    'PUT /api/settings',
  ]);
});
