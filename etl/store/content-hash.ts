import { createHash } from 'node:crypto';

/** JSON with the keys of every object in alphabetical order: equal content gives equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) => {
    if (typeof inner !== 'object' || inner === null || Array.isArray(inner)) return inner;
    return Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}

/** SHA-256 of the canonical JSON, first 128 bits in hex. */
export function contentHash(value: unknown): string {
  return createHash('sha256').update(canonicalJson(value)).digest('hex').slice(0, 32);
}
