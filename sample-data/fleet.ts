import { createRandom } from './random.ts';
import type { Random } from './random.ts';
import { LOGGERS } from './logger.ts';
import type { LoggerKind } from './logger.ts';
import { DEPOTS } from './region.ts';
import type { Depot } from './region.ts';
import { STORIES, withStory } from './stories.ts';
import { UNIT_CLASSES } from './unit-class.ts';
import type { UnitClass } from './unit-class.ts';
import type { Spell, UnitPlan } from './unit-plan.ts';

export type LogSpan = { firstDay: number; lastDay: number };

/** The longest history before the log, days: the oldest unit. */
export const OLDEST_UNIT_DAYS = 3200;

/** Unit number `index` of the fleet with this seed. */
export function unitPlan(seed: number, index: number, span: LogSpan): UnitPlan {
  const story = STORIES.find(({ place }) => place === index);
  const random = createRandom(seed, 'unit', index);
  const unitClass = UNIT_CLASSES.find(({ name }) => name === story?.className) ?? drawClass(random);
  const depot = DEPOTS.find(({ name }) => name === story?.depotName) ?? random.pick(DEPOTS);
  const plan = drawPlan(random, { index, unitClass, depot, span });
  return story === undefined ? plan : withStory(plan, story, span.lastDay);
}

function drawClass(random: Random): UnitClass {
  let left = random.uniform();
  for (const unitClass of UNIT_CLASSES) {
    left -= unitClass.share;
    if (left < 0) return unitClass;
  }
  return UNIT_CLASSES[0]!;
}

type Draw = { index: number; unitClass: UnitClass; depot: Depot; span: LogSpan };

function drawPlan(random: Random, draw: Draw): UnitPlan {
  const { unitClass, depot, span } = draw;
  const days = span.lastDay - span.firstDay + 1;
  const inServiceDay = random.chance(0.09)
    ? span.firstDay + random.integer(20, Math.max(21, Math.floor(days * 0.6)))
    : span.firstDay - random.integer(30, OLDEST_UNIT_DAYS - 400);
  return {
    index: draw.index,
    unit: `${unitClass.prefix}-${101 + draw.index}`,
    depot,
    class: unitClass,
    inServiceDay,
    outOfServiceDay: random.chance(0.045) ? span.lastDay - random.integer(10, Math.floor(days / 2)) : null,
    firstVisitDay: span.firstDay + random.integer(1, depot.visitDays),
    startsPerDay: unitClass.startsPerDay * random.lognormal(0.18),
    drainMilliamps: random.chance(0.1) ? random.between(90, 220) : random.between(15, 40),
    corrosionPerSaltDay: (random.chance(0.1) ? 0.012 : 0.0012) * depot.salt * random.lognormal(0.5),
    weakCylinder: random.chance(0.07) ? random.between(0.68, 0.85) : 1,
    lightsLeftOnPerYear: random.chance(0.3) ? 1.2 : 0.15,
    ...drawLogging(random, span),
    parked: random.chance(0.12) ? [drawSpell(random, span, [21, 75])] : [],
    hand: random.integer(0, 5),
    partsKnown: random.chance(0.6),
    story: null,
    scripts: {},
  };
}

function drawLogging(random: Random, span: LogSpan) {
  const logger = drawLogger(random);
  const swapped = logger.name !== 'slow' && random.chance(0.05);
  const days = span.lastDay - span.firstDay;
  return {
    logger,
    loggerSwap: swapped
      ? { day: span.firstDay + random.integer(Math.floor(days * 0.3), Math.floor(days * 0.8)), to: LOGGERS.slow }
      : null,
    logsTemperature: random.chance(0.85),
    recordsWaveforms: random.chance(0.35),
    silent: random.chance(0.14) ? [drawSpell(random, span, [10, 60])] : [],
  };
}

function drawLogger(random: Random): LoggerKind {
  const share = random.uniform();
  if (share < 0.48) return LOGGERS.fast;
  if (share < 0.85) return LOGGERS.plain;
  return share < 0.93 ? LOGGERS.shunt : LOGGERS.slow;
}

function drawSpell(random: Random, span: LogSpan, length: readonly [number, number]): Spell {
  const from = random.integer(span.firstDay + 10, span.lastDay - 10);
  return [from, from + random.integer(length[0], length[1])];
}
