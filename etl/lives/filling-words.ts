import { ACTION_WORDS } from './vocabulary.ts';

/** Words that name nothing: what is left of a clause without them decides whether it only goes on with the last. */
export const FILLER =
  /\b(?:the|a|an|and|new|old|one|ones|both|set|of|it|them|these|same|unit|part|assembly|assy|with|for|on|to|in|at|from|left|right|engine|motor|x|was|were|is|has|been|had|have|be|now|all|again|today|same day|site|stock|bad|faulty|removed|remove|reman|under|warranty|as|required|made|make|necessary|per|out|up|back|put|off|complete|only|monthly|yearly|hrs?|hours?|two|three|four|that|this|here|correct|right|proper|spare|stores|pool|vendor|dealer|contractor|agent|supplier|tech|mechanic|fitter|customer|supplied|ex|by|built|build|own|fell|fallen|came|come|of|found|nearly|truck|bus|vehicle|machine|tractor|loader|i|ive|we|weve|he|they|there|so|just|then|base|ok|good|fine|again|remade|only|each|every|total|ea|pcs|nos|qty|cw|ccw|refitted|workshop|shop|overnight|night|over|minutes|mins|min|ve|re|ll|[a-z]|\w*\d\w*)\b/g;

/** How a part was found; names no part either. */
export const STATES =
  /\b(?:loose|corroded|bad|poor|burnt|broken?|stuck|failed|faulty|dirty|worn|damaged|melted|chafed|dead|open|pitted|dry|joint|clicking|sticking|intermittent|cut|noisy|high|resistance|tight)\b/g;

/** Verbs and filling words alone: "removed and replaced unit". */
export function namesNothing(clause: string): boolean {
  let bare = clause.replace(FILLER, '');
  for (const { pattern } of ACTION_WORDS) bare = bare.replace(new RegExp(pattern, 'g'), '');
  return wordCount(bare) === 0;
}

export function wordCount(text: string): number {
  return text.trim() === '' ? 0 : text.trim().split(/\s+/).length;
}
