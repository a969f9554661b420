import { newBattery, pastUse, recharge, resistanceFactor } from './battery-ageing.ts';
import { starterDesign } from './engine-state.ts';
import type { EngineState } from './engine-state.ts';
import { batteryLife, starterLife } from './life-ledger.ts';
import type { TrueEnd, TrueLife } from './life-ledger.ts';
import type { Complaint, Repair, RepairFact } from './repair-fact.ts';
import { addedResistance, clickChance, deadSpotChance, newStarter, starterPastUse } from './starter-ageing.ts';
import type { Culprit } from './start-attempt.ts';
import type { UnitPlan } from './unit-plan.ts';

/**
 * What people do about a unit: they replace, they jump it and drive on, they take the wrong part, they forget to write.
 * Shares are from memory of how such records look.
 */
export type WorkshopSink = {
  repaired(fact: RepairFact): void;
  lifeEnded(life: TrueLife): void;
  /** Something that the records do not say. */
  hidden(note: { position: string; day: number; what: string }): void;
};

export type Case = { plan: UnitPlan; state: EngineState; day: number; secondOfDay: number; sink: WorkshopSink };

const JUMPED_AND_DRIVEN_ON = 0.25;
const CHARGED_AND_TESTED = 0.06;
const WRONG_STARTER = 0.03;
const WRONG_BATTERY = 0.2;
const UNRECORDED = 0.08;

/** The engine did not start. Ends with an engine that can be driven, today or from `readyDay` on. */
export function afterNoStart(culprit: Culprit, at: Case): void {
  REMEDIES[culprit](at);
}

const REMEDIES: Readonly<Record<Culprit, (at: Case) => void>> = {
  battery: afterDeadBattery,
  flat: afterFlatBattery,
  starter: afterDeadStarter,
  cables: (at) => {
    if (at.state.random.workshop.chance(WRONG_BATTERY)) return wrongBattery(at);
    at.state.corrosion = 0.05;
    write(at, 'cables_cleaned', 'no_start');
  },
  charging: (at) => {
    at.state.alternatorWeak = false;
    write(at, 'alternator_replaced', 'no_start');
    if (at.state.random.workshop.chance(0.2)) replaceBattery(at, { end: 'wrong_part', complaint: 'no_start' });
    recharge(at.state.battery, 6, 1);
  },
  control: (at) => {
    at.state.controlFault = false;
    write(at, 'control_repaired', 'nothing');
  },
  fuel: (at) => {
    at.state.fuelFault = false;
    write(at, 'fuel_repaired', 'no_start');
    recharge(at.state.battery, 6, 1);
  },
};

function afterDeadBattery(at: Case): void {
  const { state } = at;
  state.battery.failedDay ??= at.day;
  const share = state.random.workshop.uniform();
  if (state.battery.broken === null && share < JUMPED_AND_DRIVEN_ON) return jump(at);
  if (state.battery.broken === null && share < JUMPED_AND_DRIVEN_ON + CHARGED_AND_TESTED) return charge(at);
  if (share > 1 - WRONG_STARTER && state.script.leftAlone !== true) {
    replaceStarter(at, { end: 'wrong_part', complaint: 'slow' });
    return jump(at);
  }
  replaceBattery(at, { end: 'failure', complaint: 'no_start' });
}

function afterFlatBattery(at: Case): void {
  const { state } = at;
  const random = state.random.workshop;
  const recent = state.jumpDays.filter((day) => at.day - day < 60).length;
  if (recent >= 2 && state.drainMilliamps > 60 && state.script.drain === undefined && random.chance(0.5)) {
    return traceDrain(at);
  }
  const share = random.uniform();
  if (share < 0.75) return jump(at);
  if (share < 0.9 || state.script.leftAlone === true) return charge(at);
  replaceBattery(at, { end: 'wrong_part', complaint: 'no_start' });
}

/** What stayed on is found and put right. */
export function traceDrain(at: Case): void {
  at.state.drainMilliamps = 25;
  write(at, 'drain_traced', 'no_start');
  recharge(at.state.battery, 8, 1);
}

function afterDeadStarter(at: Case): void {
  const { state } = at;
  const random = state.random.workshop;
  if (!starterPastUse(state.starter) && state.starter.broken === null) return; // a dead spot by bad luck: it goes on the next try
  state.starter.failedDay ??= at.day;
  const comesBack =
    state.starter.broken === null && Math.max(deadSpotChance(state.starter), clickChance(state.starter)) < 0.9;
  const wrong = state.script.wrongPartFirst ?? random.chance(WRONG_BATTERY);
  if (comesBack && !state.wrongPartDone && wrong) {
    state.wrongPartDone = true;
    return wrongBattery(at);
  }
  if (comesBack && state.script.wrongPartFirst === undefined && random.chance(0.2)) return; // a tap on the housing helped, nobody wrote
  replaceStarter(at, { end: 'failure', complaint: state.starter.broken === 'solenoid_coil' ? 'nothing' : 'click' });
}

function wrongBattery(at: Case): void {
  replaceBattery(at, { end: pastUse(at.state.battery) ? 'failure' : 'wrong_part', complaint: 'no_start' });
  at.sink.hidden({ position: at.state.position, day: at.day, what: 'wrong_part_fitted' });
}

/** A driver who has had enough of slow or repeated cranks writes it down before the unit stays dead. */
export function afterComplaints(at: Case): void {
  const { state } = at;
  const random = state.random.workshop;
  if (state.script.leftAlone === true) return;
  if (state.retries > 4 && starterPastUse(state.starter) && random.chance(0.05)) {
    state.starter.failedDay ??= at.day;
    return replaceStarter(at, { end: 'failure', complaint: 'intermittent' });
  }
  if (state.slowStarts < 4 || !random.chance(0.06)) return;
  if (pastUse(state.battery)) {
    state.battery.failedDay ??= at.day;
    replaceBattery(at, { end: 'failure', complaint: 'slow' });
  } else if (state.corrosion > 1.5) {
    state.corrosion = 0.05;
    write(at, 'cables_cleaned', 'slow');
  } else if (addedResistance(state.starter) > 0.35) {
    state.starter.failedDay ??= at.day;
    replaceStarter(at, { end: 'failure', complaint: 'slow' });
  }
}

/** A planned visit: some put the batteries on a tester, which reads with a spread of 8 %. */
export function plannedVisit(at: Case): void {
  const { state, plan } = at;
  const random = state.random.workshop;
  const tested = random.chance(plan.depot.testsBatteries);
  const read = resistanceFactor(state.battery) * random.lognormal(0.08);
  const replace = random.chance(0.7);
  if (state.script.leftAlone === true) return;
  if (tested && read > 1.38 && replace) replaceBattery(at, { end: 'planned', complaint: 'visit' });
  if (state.retries > 2 && starterPastUse(state.starter) && random.chance(0.4))
    replaceStarter(at, { end: 'planned', complaint: 'visit' });
  if (state.corrosion > 1.2 && random.chance(0.25)) {
    state.corrosion = 0.05;
    write(at, 'cables_cleaned', 'visit');
  }
  if (state.alternatorWeak) {
    state.alternatorWeak = false;
    write(at, 'alternator_replaced', 'visit');
  }
}

type Change = { end: TrueEnd; complaint: Complaint };

function replaceBattery(at: Case, change: Change): void {
  const { state } = at;
  const quiet =
    state.script.leftAlone !== true && change.complaint !== 'visit' && state.random.workshop.chance(UNRECORDED);
  changeBattery(at, { end: change.end, recorded: !quiet });
  if (!quiet) write(at, 'battery_replaced', change.complaint);
}

/** A new bank goes in; the old one's life ends. */
export function changeBattery(at: Case, removal: { end: TrueEnd; recorded: boolean }): void {
  const { state, plan, day } = at;
  at.sink.lifeEnded(batteryLife(state, state.battery, { day, ...removal }));
  if (!removal.recorded) at.sink.hidden({ position: state.position, day, what: 'battery_replaced_unrecorded' });
  state.battery = newBattery(state.random.workshop, day, plan.class.batteryDays);
  state.slowStarts = 0;
  state.jumpDays = [];
}

function replaceStarter(at: Case, change: Change): void {
  const { state, plan, day } = at;
  at.sink.lifeEnded(starterLife(state, state.starter, { day, end: change.end, recorded: true }));
  state.starter = newStarter(state.random.workshop, day, starterDesign(plan, state.engine));
  state.retries = 0;
  state.wrongPartDone = false;
  write(at, 'starter_replaced', change.complaint);
}

function jump(at: Case): void {
  at.state.jumpDays.push(at.day);
  recharge(at.state.battery, 1.2, 1);
  write(at, 'jump_start', 'no_start');
}

function charge(at: Case): void {
  recharge(at.state.battery, 8, 1);
  write(at, 'battery_charged', 'no_start');
}

const HOURS: Readonly<Record<Repair, readonly [number, number]>> = {
  battery_replaced: [1.5, 9],
  starter_replaced: [4, 28],
  jump_start: [0.7, 2],
  battery_charged: [5, 20],
  cables_cleaned: [1.5, 8],
  control_repaired: [2, 16],
  alternator_replaced: [4, 26],
  drain_traced: [3, 30],
  fuel_repaired: [2, 12],
};

function write(at: Case, repair: Repair, complaint: Complaint): void {
  const random = at.state.random.workshop;
  const [low, high] = HOURS[repair];
  const hours = random.between(low, high);
  const stuck = complaint === 'no_start' || complaint === 'click' || complaint === 'nothing';
  const { day, secondOfDay } = at;
  at.sink.repaired({
    repair,
    complaint,
    position: at.state.position,
    day,
    secondOfDay,
    hours,
    roadCall: stuck && random.chance(0.6),
  });
  if (hours > 8 || repair !== 'jump_start')
    at.state.readyDay = Math.max(at.state.readyDay, day + 1 + Math.floor((secondOfDay / 3600 + hours) / 24));
}
