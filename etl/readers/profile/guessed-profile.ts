import type { ImportProfile } from '../../model/import-profile.ts';

/**
 * What a foreign file seems to be. Where its values leave something open the profile holds one of the answers and a
 * question stands beside it: a guess is right or asks, and nothing is ever loaded by it before a person has seen it.
 */
export type GuessedProfile = { profile: ImportProfile; certain: boolean; questions: string[] };
