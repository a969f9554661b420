/** What every sheet that sends a person to a vehicle carries. Common practice of the trade, put in its own words. */
export const CAUTIONS: readonly string[] = [
  'Lead-acid batteries hold acid and give off explosive gas: protect eyes and hands, ventilate, no flame or spark.',
  'Never bridge the battery posts. Take the ground cable off first and put it on last.',
  'A cranking engine moves: park brake on, neutral, wheels chocked; hands, hair and clothing clear.',
  'Keep the engine from firing where only cranking is wanted.',
  'Starters are hot and heavy. Support the vehicle before going under it.',
  'A 24 V bank is two batteries: test each, replace them as a matched set.',
  'Local codes, the vehicle maker’s procedure and qualified persons decide.',
];
