import type { Component } from '../model/words.ts';
import { ACTION_WORDS, SUB_PARTS_ALONE } from './vocabulary.ts';
import type { ClauseReading } from './read-clause.ts';

/** Words that name nothing: what is left of a clause without them decides whether it only goes on with the last. */
const FILLER =
  /\b(?:the|a|an|and|new|old|one|ones|both|set|of|it|them|these|same|unit|part|assembly|assy|with|for|on|to|in|at|from|left|right|engine|motor|x|was|were|is|has|been|had|have|be|now|all|again|today|same day|site|stock|bad|faulty|removed|remove|reman|under|warranty|as|required|made|make|necessary|per|out|up|back|put|off|complete|only|monthly|yearly|hrs?|hours?|two|three|four|[a-z]|\w*\d\w*)\b/g;

/** What belongs to a component and, said alone after it was named, is still about it. */
const BELONGINGS: Readonly<Record<Component, RegExp>> = {
  battery: /\b(?:bank|cells?|pair|charger|water|overnight|over|night)\b/g,
  starter: /\b(?:solenoid|brush(?:es)?|bolts?|mounting|drive|bendix|kit|contacts?|bushes|bushing)\b/g,
  cables:
    /\b(?:cable|lead|clamp|strap|ends?|lug|stud|terminal|connection|ground|positive|negative|tight|isolator|disconnect)\b/g,
  control: /\b(?:fuse|relay|switch|button|wire|wiring|barrel|key|connector|plug)\b/g,
  charging: /\b(?:belts?|brush(?:es)?|regulator|diodes?|pulley|wire|plug|tensioner)\b/g,
};

/** Speaks of the part named before, whatever else it says: "put in new ones while here", "replaced under warranty". */
const AGAIN =
  /\b(?:new|another|reman|exchange) (?:ones?|set|pair|unit)\b|\b(?:replaced|changed|renewed|swapped|fitted|installed|changeout|repaired|cleaned|tightened|charged) (?:it|them|same|both|all)\b|\bput (?:\w+ )?(?:charger )?on it\b|\b(?:set|pair) of\b|^(?:(?:all|both|was|were|been|now) )*(?:replaced|changed|renewed|swapped|changeout)(?: (?:prior|before|after|due|because|per|as|under|at|on|in|with|by|from|during|for)\b|$)/;

/** Where something sits names no other part. */
const WHERE = / (?:in|at|under|inside|behind) (?:the )?\w+(?: \w+)?$/;

/** The clause before, and the last one that named a part. */
export type Before = { last: ClauseReading | null; named: ClauseReading | null };

/**
 * A clause without a verb takes that of the clause before ("replaced battery, starter"), one without a part takes the
 * part ("starter unserviceable, replaced"; "belt squealing, replaced belt"), if it says nothing else.
 */
export function carryOver(clause: string, reading: ClauseReading, { last, named }: Before): void {
  if (reading.components.length > 0 && reading.action === null && reading.cleared === null) {
    if (isBare(clause, reading) && last?.cleared === null) reading.action = last.action;
  } else if (reading.components.length === 0 && reading.action !== null && named?.cleared === null) {
    if (!AGAIN.test(clause) && !saysNoMore(clause, named)) return;
    reading.components = named.components;
    const subPart = reading.action.event === 'replaced' && SUB_PARTS_ALONE.test(clause);
    if (subPart) reading.action = { ...reading.action, event: 'repaired' };
  }
}

/** "alternator and batteries replaced": a part named alone shares the verb of the part that follows. */
export function takeBack(clause: string, reading: ClauseReading, next: ClauseReading | undefined): void {
  if (next === undefined || next.components.length === 0 || next.action === null || next.cleared !== null) return;
  const open = reading.components.length > 0 && reading.action === null && reading.cleared === null;
  if (open && isBare(clause, reading)) reading.action = next.action;
}

function isBare(clause: string, reading: ClauseReading): boolean {
  const own = reading.components.reduce((words, { words: named }) => words + wordCount(named), 0);
  return wordCount(clause.replace(FILLER, '')) <= own;
}

function saysNoMore(clause: string, before: ClauseReading): boolean {
  return namesNothing(
    before.components.reduce(
      (rest, { component }) => rest.replace(BELONGINGS[component], ''),
      clause.replace(WHERE, ''),
    ),
  );
}

/** Verbs and filling words alone: "removed and replaced unit". */
export function namesNothing(clause: string): boolean {
  let bare = clause.replace(FILLER, '');
  for (const { pattern } of ACTION_WORDS) bare = bare.replace(new RegExp(pattern, 'g'), '');
  return wordCount(bare) === 0;
}

function wordCount(text: string): number {
  return text.trim() === '' ? 0 : text.trim().split(/\s+/).length;
}
