const MOST_CHARACTERS = 200;
/**
 * How often the ways to match may double: a choice doubles them once; a repeat, and a beginning anywhere, go over the
 * length of a file name (at most 255 bytes), about eight times. 2 to the 26th steps take under a second.
 */
const MOST_DOUBLINGS = 26;
const PER_REPEAT = 8;

/**
 * A regular expression of a profile. Refused, with RangeError, are the forms whose matching time can explode: a repeat
 * over a group, look-around and back-references, and more than a few repeats or choices.
 */
export function safeExpression(pattern: string): RegExp {
  const got = pattern.length > 60 ? `${pattern.slice(0, 60)}…` : pattern;
  if (pattern.length > MOST_CHARACTERS)
    throw new RangeError(`pattern requires at most ${MOST_CHARACTERS} characters, got ${pattern.length}`);
  const bare = pattern.replace(/\\[^k1-9]/g, '_').replace(/\[[^\]]*\]/g, '_');
  if (/\)[*+{]/.test(bare)) throw new RangeError(`pattern requires repeats of single characters, got ${got}`);
  if (/\(\?(?!<[A-Za-z]|:)|\\[k1-9]/.test(bare))
    throw new RangeError(`pattern requires plain groups, without look-around and back-references, got ${got}`);
  const anchored = bare.startsWith('^') && !bare.includes('|');
  const repeats = (bare.match(/[*+{]/g) ?? []).length + (anchored ? 0 : 1);
  const choices = (bare.replace(/\(\?/g, '').match(/[?|]/g) ?? []).length;
  if (repeats * PER_REPEAT + choices > MOST_DOUBLINGS)
    throw new RangeError(
      `pattern requires at most two repeats and two choices, one repeat more where it begins with ^, got ${got}`,
    );
  try {
    return new RegExp(pattern, 'u');
  } catch {
    throw new RangeError(`pattern requires a regular expression, got ${got}`);
  }
}
