import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import { problem } from './problem-details.ts';

/** What cannot even be read as a request is answered as every other error, on the bare connection. */
export function answerUnreadable(error: NodeJS.ErrnoException, socket: Socket): void {
  if (error.code === 'ECONNRESET' || !socket.writable) return;
  const { status, detail, remedy } = REFUSALS[error.code ?? ''] ?? NO_HTTP;
  const body = JSON.stringify(problem(status, detail, remedy));
  const head = [
    `HTTP/1.1 ${status} ${STATUS_CODES[status]}`,
    'Content-Type: application/problem+json',
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
}

type Refusal = { status: number; detail: string; remedy: string };
const NO_HTTP: Refusal = {
  status: 400,
  detail: 'connection requires a request of HTTP/1.1, got something else',
  remedy: 'Ask with a browser or an HTTP client.',
};
const REFUSALS: Readonly<Record<string, Refusal>> = {
  HPE_HEADER_OVERFLOW: {
    status: 431,
    detail: 'request requires headers of at most 16 KiB, got more',
    remedy: 'Send fewer or shorter headers.',
  },
  ERR_HTTP_REQUEST_TIMEOUT: {
    status: 408,
    detail: 'request requires to be sent in time, got a part of it',
    remedy: 'Send it again.',
  },
};
