import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { STATUS_CODES } from 'node:http';
import type { Problem } from '../contract/problem.ts';
import type { App } from '../app-context.ts';
import { ProblemError } from '../problem-error.ts';
import { validationWords } from './validation-words.ts';

/** Every error that leaves the server, from whatever depth, is `application/problem+json`. */
export function registerProblemDetails(app: App, report: (error: Error) => void): void {
  app.setErrorHandler((error: FastifyError | ProblemError, _request, reply) => {
    const problem = problemOf(error);
    // What a route says on purpose, such as 501, is no failure of the server.
    if (problem.status >= 500 && !(error instanceof ProblemError)) report(error);
    return sendProblem(reply, problem);
  });
  app.setNotFoundHandler((request, reply) =>
    sendProblem(reply, problem(404, `nothing is served at ${request.method} ${request.url}`, 'See /api/openapi.json.')),
  );
}

export function sendProblem(reply: FastifyReply, body: Problem): FastifyReply {
  // As bytes: text would have a charset added, which this media type does not know.
  return reply
    .code(body.status)
    .type('application/problem+json')
    .send(Buffer.from(JSON.stringify(body)));
}

export function problem(status: number, detail: string, remedy: string): Problem {
  return { type: 'about:blank', title: STATUS_CODES[status] ?? 'Error', status, detail, remedy };
}

/** For what fails before any route is found, such as an address with a broken escape. */
export function frameworkErrors(error: FastifyError, _request: FastifyRequest, reply: FastifyReply): void {
  void sendProblem(reply, problemOf(error));
}

function problemOf(error: FastifyError | ProblemError): Problem {
  if (error instanceof ProblemError) return problem(error.status, error.message, error.remedy);
  if (error.validation !== undefined)
    return problem(400, validationWords(error), 'Correct the named field; /api/openapi.json describes each.');
  const status = error.statusCode ?? 500;
  if (status < 500)
    return problem(status, REFUSALS[error.code] ?? error.message, 'See /api/openapi.json for what this address takes.');
  return problem(status, 'the server could not answer', 'Try again; if it stays, the program’s terminal says more.');
}

/** What the framework refuses before a route is asked, in the program's grammar. */
const REFUSALS: Readonly<Record<string, string>> = {
  FST_ERR_CTP_EMPTY_JSON_BODY: 'body requires JSON, got nothing',
  FST_ERR_CTP_INVALID_JSON_BODY: 'body requires JSON, got something else',
  FST_ERR_CTP_BODY_TOO_LARGE: 'body requires at most 64 KiB, got more',
  FST_ERR_BAD_URL: 'address requires UTF-8 in its escapes, got others',
};
