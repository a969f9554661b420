import { basename } from 'node:path';
import type { ImportProfile } from '../model/import-profile.ts';
import { UnreadableFile } from '../model/set-aside.ts';
import { longestText, safeExpression } from './profile/safe-expression.ts';

/**
 * The unit that a whole file is of: fixed in the profile, or the group `unit` of its pattern for file names. Null where
 * the profile leaves it to a column or to the lines above the header. Throws UnreadableFile where the pattern finds none.
 */
export function unitOfFile(path: string, profile: ImportProfile | null): string | null {
  if (profile?.unit !== undefined) return profile.unit;
  const pattern = profile?.unitFrom?.fileName;
  if (pattern === undefined) return null;
  const name = basename(path);
  const longest = longestText(pattern);
  if (name.length > longest)
    throw new UnreadableFile(
      `file name requires at most ${longest} characters for a pattern of so many repeats and choices, got ${name.length} (${name})`,
    );
  const unit = safeExpression(pattern).exec(name)?.groups?.['unit']?.trim();
  if (unit !== undefined && unit !== '') return unit;
  throw new UnreadableFile(
    `file name requires a unit as the profile's pattern ${pattern} finds it, got ${name} (/unitFrom/fileName)`,
  );
}
