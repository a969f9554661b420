const MOST_CHARACTERS = 200;
/**
 * How often the ways to match may double: a choice doubles them once; a repeat, and a beginning anywhere, go over the
 * length of a file name (at most 255 bytes), about eight times.
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
  const bare = withoutLiterals(pattern);
  if (/\)[*+{]/.test(bare)) throw new RangeError(`pattern requires repeats of single characters, got ${got}`);
  if (/\(\?(?!<[A-Za-z]|:)|\\[k1-9]/.test(bare))
    throw new RangeError(`pattern requires plain groups, without look-around and back-references, got ${got}`);
  const repeats = repeatsOf(bare);
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

/** About a tenth of a second. */
const MOST_STEPS = 2 ** 20;
/** However many the choices, so short a name is tried. */
const ALWAYS_TRIED = 16;

/**
 * The longest text that such an expression goes over within `MOST_STEPS`. Repeats share out the text among them, in
 * length ^ repeats / repeats! ways at most, each with every combination of the choices.
 *
 * Example: `^[A-Z]+_(?<unit>[^_]+)_.*` has three repeats: 184 characters, (6 · 2²⁰)^(1/3).
 */
export function longestText(pattern: string): number {
  const bare = withoutLiterals(pattern);
  const repeats = repeatsOf(bare);
  const steps = MOST_STEPS / choicesOf(bare);
  if (repeats === 0) return steps >= 1 ? Infinity : ALWAYS_TRIED;
  const ways = Array.from({ length: repeats }, (_, index) => index + 1).reduce((product, each) => product * each, 1);
  return Math.max(ALWAYS_TRIED, Math.floor((steps * ways) ** (1 / repeats)));
}

/** Each escaped character, and each class, as one plain character. */
function withoutLiterals(pattern: string): string {
  return pattern.replace(/\\[^k1-9]/g, '_').replace(/\[[^\]]*\]/g, '_');
}

/** A beginning anywhere counts as one. */
function repeatsOf(bare: string): number {
  const anchored = bare.startsWith('^') && !bare.includes('|');
  return (bare.match(/[*+{]/g) ?? []).length + (anchored ? 0 : 1);
}

/** How many combinations: a group has as many as it has branches, `?` two. */
function choicesOf(bare: string): number {
  const open = [1];
  let product = 1;
  for (const mark of bare.replace(/\(\?(?:<\w+>|:)/g, '(')) {
    if (mark === '(') open.push(1);
    else if (mark === '|') open[open.length - 1]! += 1;
    else if (mark === ')') product *= open.length > 1 ? open.pop()! : 1;
    else if (mark === '?') product *= 2;
  }
  return open.reduce((all, branches) => all * branches, product);
}
