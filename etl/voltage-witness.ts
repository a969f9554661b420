import type { EngineState } from './assess-engines.ts';
import { engineKey, type LivesInput } from './lives/build-lives.ts';
import { fleetSteps, ownSteps, type FleetSteps } from './lives/shared-steps.ts';
import { lastGoodCrank } from './trends/last-good-crank.ts';
import { wasSound } from './trends/sound-bank.ts';
import { wornBankOut } from './trends/worn-bank-out.ts';

/** What the log says and records do not: exchanged batteries, banks that were sound all the same, when it last started. */
export function voltageWitness(
  states: readonly EngineState[],
  fleet?: FleetSteps,
): Pick<LivesInput, 'batterySteps' | 'wasSound' | 'wornBankOut' | 'lastGoodCrank'> {
  const stateOf = new Map(states.map((state) => [engineKey(state.unit.unit, state.position), state]));
  return {
    batterySteps: ownSteps(steppedOf(states), fleet),
    wasSound(unit, position, day) {
      const state = stateOf.get(engineKey(unit, position));
      if (state === undefined || state.daily === null) return false;
      return wasSound(state.daily, state.unit.systemVolts, day);
    },
    wornBankOut(unit, position, day) {
      const daily = stateOf.get(engineKey(unit, position))?.daily ?? null;
      return daily !== null && wornBankOut(daily, day);
    },
    lastGoodCrank(unit, position, before) {
      const daily = stateOf.get(engineKey(unit, position))?.daily ?? null;
      return daily === null ? null : lastGoodCrank(daily, before);
    },
  };
}

/** All steps that the logs show, of which those that many engines share are nobody's new battery. */
export function stepsOf(states: readonly EngineState[]): FleetSteps {
  return fleetSteps(steppedOf(states));
}

function steppedOf(states: readonly EngineState[]) {
  return states.map(({ unit, position, batterySteps }) => ({ unit: unit.unit, position, batterySteps }));
}
