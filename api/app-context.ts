import type { TypeBoxTypeProvider } from '@fastify/type-provider-typebox';
import type {
  FastifyBaseLogger,
  FastifyInstance,
  RawReplyDefaultExpression,
  RawRequestDefaultExpression,
  RawServerDefault,
} from 'fastify';
import type { Store } from '../etl/store/store.ts';
import type { BackgroundRuns, StartCommand } from './background-runs.ts';
import type { CachedAnswers } from './plugins/cached-answer.ts';
import type { RankingSource } from './views/ranking-view.ts';
import type { ServedStore } from './views/served-store.ts';

export type App = FastifyInstance<
  RawServerDefault,
  RawRequestDefaultExpression,
  RawReplyDefaultExpression,
  FastifyBaseLogger,
  TypeBoxTypeProvider
>;

export type AppOptions = ServedStore & {
  store: Store;
  webFolder: string;
  /** Starts commands beside the server; without it pages only say which to run. */
  startCommand?: StartCommand;
  /** Begins at once beside the server: work that its pages would otherwise ask for. */
  begin?: 'backtest';
  /** Milliseconds since 1970, as `Date.now`. */
  now: () => number;
  /** Host names other than those of loopback that a request may be addressed to. */
  allowedHosts?: readonly string[];
  /** Is told of errors that are the server's own; the answer does not show them. */
  report?: (error: Error) => void;
};

/** What a route is given. */
export type AppContext = AppOptions & { answers: CachedAnswers; rankings: RankingSource; runs: BackgroundRuns };
