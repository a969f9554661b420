import type { Component } from '../model/words.ts';
import { FILLER, namesNothing, wordCount } from './filling-words.ts';
import { SUB_PARTS_ALONE } from './vocabulary.ts';
import type { ClauseReading } from './read-clause.ts';

/** What belongs to a component and, said alone after it was named, is still about it. */
const BELONGINGS: Readonly<Record<Component, RegExp>> = {
  battery: /\b(?:bank|cells?|pair|charger|water|overnight|over|night|stores?)\b/g,
  starter:
    /\b(?:solenoid|brush(?:es)?|bolts?|mounting|drive|bendix|kit|contacts?|bush(?:es|ing)?|carbons?|armature|field|coils?|pinion|gear)\b/g,
  cables:
    /\b(?:cable|lead|clamp|strap|ends?|lug|stud|terminal|connection|ground|earth|positive|negative|tight|isolator|disconnect|loom|harness|wiring|wires?|thimble|link|eye|eyelet|crimp)\b(?! (?:installed|fitted))/g,
  control:
    /\b(?:fuse|relay|switch|button|wire|wiring|loom|barrel|key|connector|plug|tag|card|chip|transponder(?: ring| coil)?|fob|code|pin|link|eye|eyelet|crimp|keys)\b/g,
  charging:
    /\b(?:(?:serpentine |drive |fan |poly |v )?belts?|brush(?:es)?|regulator|diodes?|pulley|wire|plug|tensioner)\b/g,
};

/** Another thing than the part named before. */
const ENGINE_EXCHANGED =
  /\b(?:replac\w*|changed?|new|fitted|installed|exchanged?|reman) (?:the |a |an |new |reman |complete )*engine\b(?! (?:starter|battery|ground|earth))|^(?:the )?engine (?:was )?(?:replaced|changed|exchanged)\b/;

/** Speaks of the part named before, whatever else it says: "put in new ones while here", "replaced under warranty". */
const AGAIN =
  /\b(?:new|another|reman|exchange|correct|proper|spare) (?:ones?|set|pair|unit)\b|\b(?:put|hung|slung) (?:them|it) (?:in|on) (?:this|here)\b|\b(?:replaced|changed|renewed|swapped|fitted|installed|changeout|repaired|cleaned|tightened|charged) (?:it|them|same|both|all)\b|\bput (?:\w+ )?(?:charger )?on it\b|\b(?:set|pair) of\b|^(?:(?:all|both|was|were|been|now) )*(?:replaced|changed|renewed|swapped|changeout)(?: (?:prior|before|after|due|because|per|as|under|at|on|in|with|by|from|during|for)\b|$)/;

/** Where something sits names no other part. */
const WHERE = / (?:in|at|under|inside|behind) (?:the )?\w+(?: \w+)?$/;

/** The clause before, the last one that named a part, and the one that had done so before that. */
export type Before = { last: ClauseReading | null; named: ClauseReading | null; earlier: ClauseReading | null };

/** "fitted correct one": done whatever was said of the part before. */
const AFRESH =
  /\b(?:fitted|installed|replaced|changed|put in) (?:a |an |the )?(?:new|another|correct|proper) (?:one|set|pair|unit)\b/;

/**
 * A clause without a verb takes that of the clause before ("replaced battery, starter"), one without a part takes the
 * part ("starter unserviceable, replaced"; "belt squealing, replaced belt"), if it says nothing else.
 */
export function carryOver(
  clause: string,
  reading: ClauseReading,
  { last, named, earlier, next }: Before & { next: ClauseReading | null },
): void {
  if (reading.components.length > 0 && reading.action === null && reading.cleared === null) {
    const ownVerb = next !== null && next.components.length === 0 && (next.action ?? next.cleared) !== null;
    if (!ownVerb && isBare(clause, reading) && last?.cleared === null) reading.action = last.action;
  } else if (reading.components.length === 0 && reading.action !== null && named !== null) {
    if (ENGINE_EXCHANGED.test(clause) || (named.cleared !== null && !AFRESH.test(clause))) return;
    if (!AGAIN.test(clause) && !saysNoMore(clause, named)) return;
    const both = /\bboth\b/.test(clause) && earlier?.cleared === null ? earlier.components : [];
    reading.components = [...both, ...named.components];
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

/** "alternator, belt, batteries": what is listed between two parts takes no verb away. */
export function isInAList(clause: string, { components, action, cleared }: ClauseReading): boolean {
  return components.length === 0 && action === null && cleared === null && wordCount(clause) <= 2;
}

/** It names parts, and else only what names nothing. */
export function isBare(clause: string, reading: ClauseReading): boolean {
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
