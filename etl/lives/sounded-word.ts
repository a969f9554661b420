/**
 * A word as it sounds, vowels left out: hands that spell by ear write `ignishun`, `titend`, `altenater`. Two words of one
 * sound are one word, if they are about as long.
 */
export function soundOf(word: string): string {
  let sound = word;
  for (const [letters, heard] of SOUNDS) sound = sound.replace(letters, heard);
  return (sound[0] ?? '') + sound.slice(1).replace(/[aeiou]/g, '');
}

/** As English is spoken. Common practice; only what workshops were seen to mix up. */
const SOUNDS: readonly [RegExp, string][] = [
  [/(?:tion|sion|tian|shun|shion)/g, 'shn'],
  [/igh(?=t)/g, 'i'],
  [/tch/g, 'ch'],
  [/ph/g, 'f'],
  [/c(?=[eiy])/g, 's'],
  [/ck|[cq](?!h)/g, 'k'],
  [/z/g, 's'],
  [/(.)\1+/g, '$1'],
];
