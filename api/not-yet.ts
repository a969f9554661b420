import { programVersion } from './config.ts';

/** What is promised and not there yet: whoever tries it is told so, and what to do until then. */
export const NOT_YET = {
  plan: {
    does: 'books replacements into bays',
    instead: 'until then export ranking says what to book, and by when',
  },
  policies: {
    does: 'weighs repair against replacement and fleet policies against each other',
    instead: 'until then each row of the ranking weighs its replacement against waiting',
  },
  watch: {
    does: 'loads what arrives in a folder',
    instead: 'until then run load on the folder again: what is in is not read twice',
  },
} as const;
export type NotYet = keyof typeof NOT_YET;

/** `plan requires a version that books replacements into bays, got 0.1.0`. */
export function notYetWords(name: NotYet, asked: string = name): string {
  return `${asked} requires a version that ${NOT_YET[name].does}, got ${programVersion()}`;
}
