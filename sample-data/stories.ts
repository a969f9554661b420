import type { EngineScript, Spell, UnitPlan } from './unit-plan.ts';
import { LOGGERS } from './logger.ts';

/**
 * Units whose story is laid down, so that a reader of the sample knows what to look for. They are scripted by what is
 * fitted, how worn it shall be, and who forgets what; the rows follow from the same physics as all others.
 * `day` is counted back from the last day of the log.
 */
export type Story = {
  name: string;
  /** Index of the unit in the fleet. */
  place: number;
  className: string;
  depotName: string;
  inServiceBefore: number;
  scripts: Readonly<Record<string, EngineScript>>;
  loggerSwapBefore?: number;
  silentBefore?: readonly [from: number, to: number];
  parkedBefore?: readonly [from: number, to: number];
};

export const STORIES: readonly Story[] = [
  {
    name: 'battery fading before winter',
    place: 6,
    className: 'tractor truck',
    depotName: 'High Tarrow',
    inServiceBefore: 2300,
    scripts: {
      '': {
        battery: { fittedBefore: 1350, damageAtEnd: 0.95, knee: 0.66 },
        starter: { fittedBefore: 700, brushAtEnd: 0.7 },
        leftAlone: true,
      },
    },
  },
  {
    name: 'starter brushes near their end',
    place: 11,
    className: 'delivery van',
    depotName: 'Oldmere',
    inServiceBefore: 2700,
    scripts: {
      '': {
        battery: { fittedBefore: 420, damageAtEnd: 0.3, knee: 0.8 },
        starter: { fittedBefore: 2700, brushAtEnd: 0.075 },
        leftAlone: true,
      },
    },
  },
  {
    name: 'wrong part fitted',
    place: 17,
    className: 'delivery van',
    depotName: 'Saltreach',
    inServiceBefore: 2500,
    scripts: {
      '': {
        battery: { fittedBefore: 1000, damageAtEnd: 0.6, knee: 0.8 },
        starter: { fittedBefore: 2500, brushAtEnd: -0.03 },
        wrongPartFirst: true,
        leftAlone: true,
      },
    },
  },
  {
    name: 'logger swapped for a slower one',
    place: 22,
    className: 'wheel loader',
    depotName: 'Fennick Cross',
    inServiceBefore: 1500,
    loggerSwapBefore: 330,
    scripts: {
      '': {
        battery: { fittedBefore: 760, damageAtEnd: 0.55, knee: 0.8 },
        starter: { fittedBefore: 1500, brushAtEnd: 0.6 },
        leftAlone: true,
      },
    },
  },
  {
    name: 'battery changed without a record',
    place: 28,
    className: 'city bus',
    depotName: 'Oldmere',
    inServiceBefore: 1900,
    scripts: {
      '': {
        battery: { fittedBefore: 1500, damageAtEnd: 1.12, knee: 0.7 },
        starter: { fittedBefore: 800, brushAtEnd: 0.75 },
        unrecordedBatteryBefore: 260,
        leftAlone: true,
      },
    },
  },
  {
    name: 'something stays on',
    place: 33,
    className: 'service pickup',
    depotName: 'Fennick Cross',
    inServiceBefore: 1300,
    scripts: {
      '': {
        battery: { fittedBefore: 620, damageAtEnd: 0.4, knee: 0.85 },
        starter: { fittedBefore: 1300, brushAtEnd: 0.65 },
        drain: { milliamps: 540, fromBefore: 330, untilBefore: 225 },
        leftAlone: true,
      },
    },
  },
  {
    name: 'a cell shorts without warning',
    place: 39,
    className: 'tractor truck',
    depotName: 'Saltreach',
    inServiceBefore: 1400,
    scripts: {
      '': {
        battery: { fittedBefore: 700, damageAtEnd: 0.45, knee: 0.85 },
        starter: { fittedBefore: 1400, brushAtEnd: 0.55 },
        cellShortBefore: 190,
        leftAlone: true,
      },
    },
  },
  {
    name: 'one of two engines',
    place: 44,
    className: 'twin-engine crane',
    depotName: 'High Tarrow',
    inServiceBefore: 1800,
    scripts: {
      front: {
        battery: { fittedBefore: 500, damageAtEnd: 0.3, knee: 0.85 },
        starter: { fittedBefore: 900, brushAtEnd: 0.7 },
        leftAlone: true,
      },
      rear: {
        battery: { fittedBefore: 1250, damageAtEnd: 0.93, knee: 0.68 },
        starter: { fittedBefore: 900, brushAtEnd: 0.7 },
        leftAlone: true,
      },
    },
  },
  {
    name: 'silent logger',
    place: 50,
    className: 'delivery van',
    depotName: 'Oldmere',
    inServiceBefore: 1100,
    silentBefore: [95, -1],
    scripts: {
      '': {
        battery: { fittedBefore: 1100, damageAtEnd: 0.7, knee: 0.85 },
        starter: { fittedBefore: 1100, brushAtEnd: 0.6 },
        leftAlone: true,
      },
    },
  },
  {
    name: 'parked',
    place: 55,
    className: 'wheel loader',
    depotName: 'High Tarrow',
    inServiceBefore: 1250,
    parkedBefore: [120, 45],
    scripts: {
      '': {
        battery: { fittedBefore: 800, damageAtEnd: 0.5, knee: 0.85 },
        starter: { fittedBefore: 1250, brushAtEnd: 0.6 },
        leftAlone: true,
      },
    },
  },
];

/** Lays a story over a drawn plan. */
export function withStory(plan: UnitPlan, story: Story, lastDay: number): UnitPlan {
  const spell = (before: readonly [number, number] | undefined): Spell[] =>
    before === undefined ? [] : [[lastDay - before[0], lastDay - before[1]]];
  return {
    ...plan,
    inServiceDay: lastDay - story.inServiceBefore,
    outOfServiceDay: null,
    lightsLeftOnPerYear: 0,
    drainMilliamps: 25,
    corrosionPerSaltDay: 0.001,
    logger: LOGGERS.fast,
    loggerSwap:
      story.loggerSwapBefore === undefined ? null : { day: lastDay - story.loggerSwapBefore, to: LOGGERS.slow },
    logsTemperature: true,
    recordsWaveforms: true,
    silent: spell(story.silentBefore),
    parked: spell(story.parkedBefore),
    partsKnown: true,
    story: story.name,
    scripts: story.scripts,
  };
}
