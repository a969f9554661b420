/** Longer file names than any system allows (255 bytes) are never matched, so that time stays bounded. */
const MOST_CHARACTERS = 200;
const MOST_REPEATS = 8;

/**
 * A regular expression of a profile. Refused, with RangeError, are the forms whose matching time can explode: a repeat
 * over a group, look-around and back-references, and more than a few repeats in all.
 */
export function safeExpression(pattern: string): RegExp {
  const got = pattern.length > 60 ? `${pattern.slice(0, 60)}…` : pattern;
  if (pattern.length > MOST_CHARACTERS)
    throw new RangeError(`pattern requires at most ${MOST_CHARACTERS} characters, got ${pattern.length}`);
  const bare = pattern.replace(/\\[^k1-9]/g, '_').replace(/\[[^\]]*\]/g, '_');
  if (/\)[*+{]/.test(bare)) throw new RangeError(`pattern requires repeats of single characters, got ${got}`);
  if (/\(\?(?!<[A-Za-z]|:)|\\[k1-9]/.test(bare))
    throw new RangeError(`pattern requires plain groups, without look-around and back-references, got ${got}`);
  if ((bare.match(/[*+{]/g) ?? []).length > MOST_REPEATS)
    throw new RangeError(`pattern requires at most ${MOST_REPEATS} repeats, got ${got}`);
  try {
    return new RegExp(pattern, 'u');
  } catch {
    throw new RangeError(`pattern requires a regular expression, got ${got}`);
  }
}
