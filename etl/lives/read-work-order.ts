import { fleetClock, type FleetClock } from '../model/fleet-clock.ts';
import type { Component, RepairEvent } from '../model/words.ts';
import type { ReadWorkOrder, WorkOrder } from '../model/work-order.ts';
import { clausesOf } from './normalise-text.ts';
import { codedParts } from './coded-parts.ts';
import { carryOver, isInAList, takeBack, type Before } from './carry-over.ts';
import { MACHINE_ABOARD } from './look-alikes.ts';
import { markNotCured } from './not-cured.ts';
import { takePartsAsFitted } from './parts-fitted.ts';
import { undoPutBack } from './put-back.ts';
import { readClause, withoutStarting, type ClauseReading } from './read-clause.ts';
import { topicsOf, type Topics } from './record-topics.ts';
import { FAULT_WORDS, NOTHING_DONE, PLANNED_WORDS, STRANDED_WORDS, TAKEN_WORDS } from './vocabulary.ts';

export type SystemCodes = Readonly<Record<string, Component | 'none'>>;

type Finding = {
  component: Component | 'none';
  event: RepairEvent;
  words: string[];
  weight: number;
  positions: readonly string[];
};
type Field = { clauses: readonly string[]; weight: number };

/**
 * What a repair record says about starting, as a person would read it in passing.
 *
 * What was done (correction) outweighs why (cause) and what was asked (complaint): "replace batteries" as a complaint
 * is no replacement when the correction says they tested good, nor while the order is open. One row per component and
 * position touched, with its strongest event; a no-start or jump start that names no part stands as a row of its own; a
 * record that touches none gives exactly one row `none`, `unrelated`. `words` are the words that decided.
 *
 * Example: complaint `L/H ENG WON'T START`, correction `BATT OK. R&R STARTER` gives `battery inspected` and
 * `starter replaced`, both unplanned, position `left`.
 */
export function readWorkOrder(
  order: WorkOrder,
  systemCodes: SystemCodes = {},
  clock: FleetClock = fleetClock('UTC'),
): ReadWorkOrder[] {
  const fields = fieldsOf(order);
  const readings = readFields(fields);
  takePartsAsFitted(readings);
  markNotCured(readings);
  const clauses = readings.map(({ reading }) => reading);
  const findings = strongest([...partFindings(readings, order, systemCodes), ...startFindings(clauses)]);
  const rows = [...findings, ...unexplained(findings, clauses)];
  const unplanned = isUnplanned(order, readings, fields);
  const taken = fields.map(({ clauses }) => TAKEN_WORDS.exec(clauses.join(' '))?.[0] ?? '').find((word) => word !== '');
  return rows
    .flatMap(({ component, event, words, positions }) =>
      (order.position !== '' ? [order.position] : positionsOf(positions, clauses)).map((position) => ({
        workOrder: order.workOrder,
        unit: order.unit,
        ...whenOf(order, clock),
        component,
        event,
        unplanned: event === 'unrelated' ? order.roadCall === true : unplanned,
        position: event === 'unrelated' ? order.position : position,
        words: [...new Set(event === 'replaced' && taken !== undefined ? [...words, taken] : words)].join('; '),
      })),
    )
    .slice(0, rows[0]?.event === 'unrelated' ? 1 : undefined);
}

/** When an order was opened and done, with the fleet's days of both. */
export function whenOf(
  { openedUs, closedUs }: WorkOrder,
  clock: FleetClock,
): Pick<ReadWorkOrder, 'openedUs' | 'doneUs' | 'openedDay' | 'doneDay'> {
  const doneUs = closedUs ?? openedUs;
  return { openedUs, doneUs, openedDay: clock.dayOf(openedUs), doneDay: clock.dayOf(doneUs) };
}

function fieldsOf(order: WorkOrder): Field[] {
  const fields = [
    { text: order.correction ?? '', weight: 3 },
    { text: order.cause ?? '', weight: 2 },
    { text: order.complaint ?? '', weight: 1 },
  ];
  return fields
    .filter(({ text }) => text.trim() !== '')
    .map(({ text, weight }) => ({ clauses: clausesOf(text), weight }));
}

type Reading = { clause: string; reading: ClauseReading; weight: number; faulty: boolean };

/** What the fields before named, and whether they spoke of another machine's start. */
type Told = { named: ClauseReading | null; elsewhere: boolean };

/** All clauses, weightiest field first. A bare "replaced" in the correction means what the other fields named. */
function readFields(fields: readonly Field[]): Reading[] {
  let named: ClauseReading | null = null;
  let elsewhere = false;
  const topics = topicsOf(fields.flatMap(({ clauses }) => clauses));
  return fields
    .toReversed()
    .map((field) => {
      const readings = readField(field, { named, elsewhere }, topics);
      elsewhere = speaksElsewhere(readings) ?? elsewhere;
      named = readings.findLast(({ reading }) => reading.components.length > 0)?.reading ?? named;
      return readings;
    })
    .reverse()
    .flat();
}

/** A field that says of a machine aboard, and not of the unit, that it does not start; `null`: it says nothing of either. */
function speaksElsewhere(readings: readonly Reading[]): boolean | null {
  const told = readings.findLast(({ reading }) => reading.otherMachine !== null);
  if (told === undefined) return null;
  const own = readings.some(({ reading }) => (reading.noStart ?? reading.jumpStart) !== null);
  return told.reading.otherMachine === true && MACHINE_ABOARD.test(told.clause) && !own;
}

/** The clauses of one field; a clause without verb or without part takes it from the one before. */
function readField({ clauses, weight }: Field, { named, elsewhere: told }: Told, topics: Topics): Reading[] {
  const faulty = clauses.some((clause) => FAULT_WORDS.test(clause));
  const nothing = clauses.find((clause) => NOTHING_DONE.test(clause)) ?? null;
  const before: Before = { last: named, named, earlier: null };
  let elsewhere = told;
  const readings = clauses.map((clause, index) => {
    const read = readClause(clause, topics);
    elsewhere = read.otherMachine ?? elsewhere;
    const reading = elsewhere ? withoutStarting(read) : read;
    const next = clauses[index + 1];
    carryOver(clause, reading, { ...before, next: next === undefined ? null : readClause(next, topics) });
    if (!isInAList(clause, reading)) before.last = reading;
    if (reading.components.length > 0) [before.earlier, before.named] = [before.named, reading];
    const undone = nothing ?? (/^if\b/.test(clauses[index - 1] ?? '') ? 'if' : null);
    if (undone !== null) Object.assign(reading, { action: null, cleared: undone });
    return { clause, reading, weight, faulty };
  });
  undoPutBack(readings);
  clauses.forEach((clause, index) => takeBack(clause, readings[index]!.reading, readings[index + 1]?.reading));
  return readings;
}

function partFindings(readings: readonly Reading[], order: WorkOrder, systemCodes: SystemCodes): Finding[] {
  const coded = order.systemCode === null ? undefined : systemCodes[order.systemCode];
  if (coded === 'none') return [];
  const corrected = readings.some(
    ({ reading, weight }) => weight === 3 && (reading.action ?? reading.cleared) !== null,
  );
  const paid = (order.partsCostMinor ?? 0) > 0;
  const code = { coded, code: order.systemCode ?? '', paid };
  // What an open order asks for is not done yet, unless it says so.
  const isAsked = (action: ClauseReading['action']) =>
    corrected || (order.closedUs === null && action !== null && !action.words.endsWith('ed'));
  return readings.flatMap(({ clause, reading, weight, faulty }) =>
    codedParts(clause, reading, code).map(({ component, words, action, cleared }) => ({
      component,
      weight,
      positions: reading.positions,
      event: eventOf({ ...reading, action, cleared }, { asked: weight === 1 && isAsked(action), faulty, paid }),
      words: [words, cleared ?? action?.words ?? ''].filter((word) => word !== ''),
    })),
  );
}

function eventOf(reading: ClauseReading, by: { asked: boolean; faulty: boolean; paid: boolean }): RepairEvent {
  if (reading.cleared !== null && reading.action?.event !== 'repaired') return 'inspected';
  if (by.asked) return 'inspected';
  if (reading.action !== null) return reading.action.event;
  if (reading.flatBattery !== null) return 'no_start';
  return by.faulty && by.paid ? 'repaired' : 'inspected';
}

/** A jump start, or a battery found flat, belongs to the battery. */
function startFindings(clauses: readonly ClauseReading[]): Finding[] {
  const jump = clauses.find(({ jumpStart }) => jumpStart !== null)?.jumpStart;
  if (jump !== undefined && jump !== null)
    return [{ component: 'battery', event: 'jump_started', words: [jump], weight: 3, positions: [] }];
  const flat = clauses.find(({ flatBattery, cleared }) => flatBattery !== null && cleared === null)?.flatBattery;
  if (flat !== undefined && flat !== null)
    return [{ component: 'battery', event: 'no_start', words: [flat], weight: 1, positions: [] }];
  return [];
}

/** A no-start that no work on a part explains is an event of its own; a record that says nothing is `unrelated`. */
function unexplained(findings: readonly Finding[], clauses: readonly ClauseReading[]): Finding[] {
  if (findings.some(({ event }) => event !== 'inspected')) return [];
  const none = { component: 'none', weight: 1, positions: [] } as const;
  const noStart = clauses.find((clause) => clause.noStart !== null)?.noStart ?? null;
  if (noStart !== null) return [{ ...none, event: 'no_start', words: [noStart] }];
  return findings.length > 0 ? [] : [{ ...none, event: 'unrelated', words: [] }];
}

const STRENGTH: readonly RepairEvent[] = ['unrelated', 'inspected', 'no_start', 'repaired', 'jump_started', 'replaced'];

/** One finding per component: the strongest event among those of the weightiest field that says what was done. */
function strongest(findings: readonly Finding[]): Finding[] {
  const best = new Map<Finding['component'], Finding>();
  for (const finding of findings) {
    const standing = best.get(finding.component);
    if (standing === undefined || outweighs(finding, standing)) best.set(finding.component, finding);
    else if (finding.event === standing.event)
      best.set(finding.component, { ...standing, positions: [...standing.positions, ...finding.positions] });
  }
  return [...best.values()];
}

function outweighs(finding: Finding, standing: Finding): boolean {
  const done = (each: Finding) => each.event === 'replaced' || each.event === 'repaired';
  const cleared = standing.event === 'inspected' && standing.weight === 3;
  if (cleared && done(finding) && finding.weight < standing.weight) return false;
  return STRENGTH.indexOf(finding.event) > STRENGTH.indexOf(standing.event);
}

/** Where the work was done, else wherever the record speaks of, but for what it found good. */
function positionsOf(own: readonly string[], clauses: readonly ClauseReading[]): string[] {
  const spoken = clauses.filter(({ cleared }) => cleared === null);
  const told = [own, spoken, clauses].map((each) => [
    ...new Set(each.flatMap((at) => (typeof at === 'string' ? [at] : at.positions))),
  ]);
  return told.find((positions) => positions.length > 0) ?? [''];
}

/**
 * A no-start, a road call or a tow says unplanned. Else the word for a planned visit says planned: a battery that the
 * visit found "dead" had not kept anybody waiting, unless that was the complaint.
 */
function isUnplanned(order: WorkOrder, readings: readonly Reading[], fields: readonly Field[]): boolean {
  const text = fields.map(({ clauses }) => clauses.join(' . ')).join(' . ');
  const complained = fields.at(-1)?.weight;
  const stuck = readings.some(
    ({ reading, weight }) =>
      (reading.noStart ?? reading.jumpStart) !== null || (reading.flatBattery !== null && weight === complained),
  );
  if (order.roadCall === true || stuck || STRANDED_WORDS.test(text)) return true;
  return !PLANNED_WORDS.test(text);
}
