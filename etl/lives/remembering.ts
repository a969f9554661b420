/** Some MiB at most. Convention of this program. */
const MOST = 20_000;

/**
 * Records repeat their words, clauses and whole texts: what was made of one is made once, as long as there are not too
 * many and none too long. For functions of a text alone.
 */
export function remembering<Made>(make: (text: string) => Made, longest: number): (text: string) => Made {
  const before = new Map<string, Made>();
  return (text) => {
    const known = before.get(text);
    if (known !== undefined) return known;
    const made = make(text);
    if (before.size < MOST && text.length <= longest) before.set(text, made);
    return made;
  };
}
