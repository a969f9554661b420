import { createHash } from 'node:crypto';
import type { ImportProfile } from '../../model/import-profile.ts';

/**
 * SHA-256 (hex) of what a profile says, whatever the order in which it says it; its name has no part in it. Part of the
 * identity of a file that was read by it.
 */
export function profileHash(profile: ImportProfile): string {
  const { name: _, ...rest } = profile;
  return createHash('sha256').update(canonical(rest)).digest('hex');
}

function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const parts = Object.entries(value).filter(([, part]) => part !== undefined);
  const sorted = parts.sort(([a], [b]) => Number(a > b) - Number(a < b));
  return `{${sorted.map(([key, part]) => `${JSON.stringify(key)}:${canonical(part)}`).join(',')}}`;
}
