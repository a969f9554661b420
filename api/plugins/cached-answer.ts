import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';

/**
 * Answers that are made once and kept as bytes until what they were made of changes. `parts` name the state that the
 * answer depends on (versions of inputs and settings, the assessment); their hash is the ETag, so a browser that holds
 * the answer gets 304, and the same state is never serialised twice.
 */
export type CachedAnswers = {
  send(to: { request: FastifyRequest; reply: FastifyReply }, answer: CachedAnswer): Promise<FastifyReply>;
};
export type CachedAnswer = {
  parts: readonly (string | number)[];
  type: string;
  /** Only called when no kept answer fits. */
  make: () => Promise<string | Uint8Array>;
};

/** `mostBytes` bounds what is kept; the answer that was used longest ago goes first. */
export function createCachedAnswers(mostBytes = 64_000_000): CachedAnswers {
  const kept = new Map<string, Buffer>();
  let keptBytes = 0;

  function keep(etag: string, bytes: Buffer): void {
    keptBytes += bytes.length - (kept.get(etag)?.length ?? 0);
    kept.delete(etag);
    kept.set(etag, bytes);
    for (const [oldest, { length }] of kept) {
      if (keptBytes <= mostBytes || oldest === etag) break;
      kept.delete(oldest);
      keptBytes -= length;
    }
  }

  return {
    async send({ request, reply }, { parts, type, make }) {
      const etag = `"${createHash('sha256')
        .update(JSON.stringify([type, ...parts]))
        .digest('base64url')
        .slice(0, 27)}"`;
      reply.header('etag', etag).header('cache-control', 'no-cache').header('vary', 'accept');
      if (names(request.headers['if-none-match'], etag)) return reply.code(304).send();
      const bytes = kept.get(etag) ?? Buffer.from(await make());
      keep(etag, bytes);
      return reply.type(type).send(bytes);
    },
  };
}

function names(ifNoneMatch: string | undefined, etag: string): boolean {
  return (ifNoneMatch ?? '').split(',').some((each) => each.trim().replace(/^W\//, '') === etag);
}
