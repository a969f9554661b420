/**
 * The true state where a simulator gives no chance with it: how likely parts in such a state fail within 90 days, learnt
 * from other fleets of the same simulator whose states and ends are known. A lower bound of perfect knowledge: a
 * specimen's own knee and the rate at which it ages do not stand in the truth.
 */
import { dayOfDate } from '../calendar.ts';
import { chanceOf, logistic, type LogisticRow } from './logistic.ts';
import { HORIZON } from './rows.ts';
import { lifeOn, placeKey, rowsOf, trueLives, type TrueLife, type Truth } from './truth.ts';

export type FleetFolders = { data: string; truth: string };
export type Learnt = (folders: FleetFolders) => Truth['chance'];

type State = { place: { unit: string; position: string }; day: number; figures: Record<string, number>; class: string };
const COMPONENTS = ['battery', 'starter'] as const;
type Component = (typeof COMPONENTS)[number];

/** Where the straight pieces of each figure meet: worn out and nearly so, as the simulator's README has it. */
const KNOTS: Record<Component, Record<string, readonly number[]>> = {
  battery: {
    battery_resistance: [1.05, 1.15, 1.3, 1.5, 1.75, 2.1],
    battery_capacity: [0.45, 0.55, 0.65, 0.75],
    battery_charge: [0.6, 0.8],
    corrosion: [0.5, 1.5],
  },
  starter: {
    brush_length: [0.1, 0.18, 0.24, 0.3, 0.4],
    contact_erosion: [0.7, 0.8, 0.86, 0.92],
    corrosion: [1],
  },
};
/** States are written on each first of a month; origins lie a day or two beside. */
const NEAR_DAYS = 2;
const YEAR_DAYS = 365.25;

export function learnChances(fleets: readonly FleetFolders[], lastDay: number): Learnt {
  const rows: Record<Component, LogisticRow[]> = { battery: [], starter: [] };
  for (const folders of fleets)
    for (const component of COMPONENTS) rows[component].push(...trainingRows(folders, component, lastDay));
  const fits = Object.fromEntries(
    COMPONENTS.map((component) => [component, logistic(rows[component], rows[component][0]!.x.length)]),
  );
  return (folders) => {
    const stateOf = new Map<string, State[]>();
    for (const state of statesOf(folders)) {
      const key = placeKey({ ...state.place, component: '' });
      stateOf.set(key, [...(stateOf.get(key) ?? []), state]);
    }
    return ({ unit, position, component }, day) => {
      const near = (stateOf.get(placeKey({ unit, position, component: '' })) ?? []).find(
        (state) => Math.abs(state.day - day) <= NEAR_DAYS,
      );
      const fit = fits[component];
      if (near === undefined || fit === undefined) return null;
      const perfect = chanceOf(features(near, component as Component), fit);
      return { perfect, worn: perfect };
    };
  };
}

function statesOf({ data, truth }: FleetFolders): State[] {
  const classOf = new Map(rowsOf(data, 'units.csv').map((row) => [row['unit']!, row['class']!]));
  return rowsOf(truth, 'true-states.csv').map(({ unit, position, date, ...figures }) => ({
    place: { unit: unit!, position: position! },
    day: dayOfDate(date!),
    figures: Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, Number(value)])),
    class: classOf.get(unit!) ?? '',
  }));
}

/** States whose part was followed for the horizon or failed within it. */
function trainingRows(folders: FleetFolders, component: Component, lastDay: number): LogisticRow[] {
  const lives = new Map<string, TrueLife[]>();
  for (const life of trueLives(folders.truth)) lives.set(placeKey(life), [...(lives.get(placeKey(life)) ?? []), life]);
  return statesOf(folders).flatMap((state) => {
    const life = lifeOn(lives.get(placeKey({ ...state.place, component })) ?? [], state.day);
    if (life === null) return [];
    const days = Math.min(life.removedDay, lastDay) - state.day;
    const failed = life.end === 'failure' && life.removedDay <= Math.min(lastDay, state.day + HORIZON);
    return failed || days >= HORIZON ? [{ x: features(state, component), failed: Number(failed) }] : [];
  });
}

const CLASSES = ['delivery van', 'service pickup', 'tractor truck', 'city bus', 'wheel loader'];

function features({ day, figures, class: unitClass }: State, component: Component): number[] {
  const turn = (2 * Math.PI * day) / YEAR_DAYS;
  const pieces = Object.entries(KNOTS[component]).flatMap(([name, knots]) => [
    figures[name]!,
    ...knots.map((knot) => Math.max(0, figures[name]! - knot)),
  ]);
  const season = [Math.sin(turn), Math.cos(turn), Math.sin(2 * turn), Math.cos(2 * turn)];
  const worn = component === 'battery' ? Math.max(0, figures['battery_resistance']! - 1.1) : 0;
  const classes = CLASSES.map((name) => Number(name === unitClass));
  return [1, ...pieces, ...season, ...season.slice(0, 2).map((each) => each * worn), ...classes];
}
