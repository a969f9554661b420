import Fastify from 'fastify';
import type { App, AppContext, AppOptions } from './app-context.ts';
import { createBackgroundRuns } from './background-runs.ts';
import { createCachedAnswers } from './plugins/cached-answer.ts';
import { registerOpenApi } from './plugins/openapi.ts';
import { refuseOtherMethods } from './plugins/other-methods.ts';
import { frameworkErrors, registerProblemDetails } from './plugins/problem-details.ts';
import { registerSecurity } from './plugins/security.ts';
import { answerUnreadable } from './plugins/unreadable-requests.ts';
import { registerWebPages } from './plugins/web-pages.ts';
import { assessmentsRoute } from './routes/assessments.ts';
import { benchTestsRoute } from './routes/bench-tests.ts';
import { bookingRoutes } from './routes/bookings.ts';
import { deferralRoutes } from './routes/deferrals.ts';
import { crankWaveformRoute } from './routes/crank-waveform.ts';
import { healthRoute } from './routes/health.ts';
import { importsRoutes } from './routes/imports.ts';
import { notYetRoutes } from './routes/not-yet.ts';
import { rankingRoute } from './routes/ranking.ts';
import { readingRoutes } from './routes/readings.ts';
import { runRoutes } from './routes/runs.ts';
import { settingsRoutes } from './routes/settings.ts';
import { systemCodesRoute } from './routes/system-codes.ts';
import { trackRecordRoute } from './routes/track-record.ts';
import { unitAliasRoutes } from './routes/unit-aliases.ts';
import { unitCranksRoute } from './routes/unit-cranks.ts';
import { unitRoutes } from './routes/unit.ts';
import { createRankingSource } from './views/ranking-view.ts';

/** One resource a file; a route more is a line more. */
const ROUTES: readonly ((app: App, context: AppContext) => void)[] = [
  healthRoute,
  rankingRoute,
  unitRoutes,
  unitCranksRoute,
  crankWaveformRoute,
  importsRoutes,
  trackRecordRoute,
  assessmentsRoute,
  runRoutes,
  settingsRoutes,
  systemCodesRoute,
  bookingRoutes,
  deferralRoutes,
  readingRoutes,
  unitAliasRoutes,
  benchTestsRoute,
  notYetRoutes,
];

/** The whole server but for listening: tests inject requests into it. */
export async function buildApp(options: AppOptions): Promise<App> {
  const app: App = Fastify({
    bodyLimit: 64 * 1024,
    // Unit numbers are free text: encoded in the address a character takes up to nine.
    routerOptions: { maxParamLength: 2000 },
    frameworkErrors,
    clientErrorHandler: answerUnreadable,
    ajv: { customOptions: { coerceTypes: 'array', removeAdditional: false, allErrors: true, verbose: true } },
  });
  // Answers are checked against their schemas by tests; at run time plain JSON is twice as fast.
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
  registerProblemDetails(app, options.report ?? (() => undefined));
  await registerSecurity(app, options.allowedHosts ?? []);
  await registerOpenApi(app);
  const context: AppContext = {
    ...options,
    answers: createCachedAnswers(),
    rankings: createRankingSource(options.store, options, () => options.now() * 1000),
    runs: createBackgroundRuns(options.startCommand ?? null),
  };
  const refuseTheRest = refuseOtherMethods(app);
  for (const route of ROUTES) route(app, context);
  refuseTheRest();
  if (options.begin !== undefined) context.runs.start({ what: options.begin, asOf: null, words: [] });
  await registerWebPages(app, options.webFolder);
  return app;
}
