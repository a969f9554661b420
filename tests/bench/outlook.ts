import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { backtest } from '../../etl/backtest.ts';
import { readSeries } from '../../etl/backtest-series.ts';
import { asOf, dateOf } from '../../etl/model/time.ts';
import { openStore } from '../../etl/store/open-store.ts';
import { figuresOf, type Figures } from '../simulated-fleet/judge/figures.ts';
import { judgedFleet, LAST_ON, ORIGINS, type FleetChoice } from '../simulated-fleet/judge/fleets.ts';
import { openNotebook } from '../simulated-fleet/judge/notebook.ts';
import { judgedRows, type JudgedRow } from '../simulated-fleet/judge/rows.ts';
import { tableOf } from '../simulated-fleet/judge/tables.ts';
import { WORLDS } from '../simulated-fleet/world.ts';

const ARTEFACTS = join(process.cwd(), 'tests/bench/artefacts');

/**
 * The outlook on fleets that another simulator made, against what truly happened, beside baselines, a notebook and
 * perfect knowledge. `npm run bench -- outlook`; after it `--world north --seed 1 --component battery --units 100` take
 * a part (world and seed several times), `--world sample` takes fleets of the command `simulate`, `--fresh` simulates
 * and loads anew. A run over all worlds keeps its figures in
 * tests/bench/artefacts/outlook.json.
 */
export async function bench(): Promise<{ name: string; figures: Record<string, number> }> {
  const { choices, components, fresh, whole } = asked();
  const rows: (JudgedRow & { world: string })[] = [];
  for (const choice of choices) {
    const before = process.cpuUsage();
    rows.push(...(await judged(choice, fresh)).map((row) => ({ ...row, world: choice.world })));
    const { user, system } = process.cpuUsage(before);
    process.stderr.write(`${choice.world} ${choice.seed}: ${((user + system) / 1e6).toFixed(0)} s of processor time\n`);
  }
  const worlds = [...new Set(choices.map(({ world }) => world))];
  const tables: Record<string, Figures> = {};
  for (const component of components) {
    for (const world of worlds)
      tables[`${component} ${world}`] = figuresOf(
        rows.filter((row) => row.world === world && row.component === component),
      );
    if (worlds.length > 1) tables[`${component} pooled`] = figuresOf(rows.filter((row) => row.component === component));
  }
  for (const [title, figures] of Object.entries(tables)) process.stderr.write(`\n${tableOf(title, figures)}\n`);
  if (whole) await keep(choices, tables);
  return { name: 'outlook', figures: short(tables) };
}

function asked() {
  const { values } = parseArgs({
    args: process.argv.slice(2),
    allowPositionals: true,
    options: {
      world: { type: 'string', multiple: true, default: WORLDS.map(({ name }) => name) },
      seed: { type: 'string', multiple: true, default: ['1', '2', '3'] },
      component: { type: 'string', multiple: true, default: ['battery', 'starter'] },
      units: { type: 'string', default: '300' },
      fresh: { type: 'boolean', default: false },
    },
  });
  const units = Number(values.units);
  const choices = values.world.flatMap((world) => values.seed.map((seed) => ({ world, seed: Number(seed), units })));
  const all = WORLDS.every(({ name }) => values.world.includes(name));
  const whole = units === 300 && all && values.component.length === 2;
  return { choices, components: values.component, fresh: values.fresh, whole };
}

async function judged(choice: FleetChoice, fresh: boolean): Promise<JudgedRow[]> {
  const fleet = await judgedFleet(choice, fresh);
  const store = await openStore(fleet.storePath);
  try {
    const { truth } = fleet;
    const origins = ORIGINS.map((day) => fleet.firstDay + day);
    const series = await readSeries(store);
    const notebook = await openNotebook(store, series, { lives: truth.lives, firstDay: fleet.firstDay, origins });
    const { forecasts } = await backtest(store, {
      newest: asOf(LAST_ON),
      fromOn: dateOf(origins[0]!),
      toOn: dateOf(origins.at(-1)!),
      draws: 0,
    });
    return judgedRows(forecasts, { fleet: fleet.name, truth, notebook, lastDay: fleet.lastDay });
  } finally {
    store.close();
  }
}

async function keep(choices: readonly FleetChoice[], tables: Record<string, Figures>): Promise<void> {
  await mkdir(ARTEFACTS, { recursive: true });
  const round = (_: string, value: unknown) => (typeof value === 'number' ? Number(value.toFixed(4)) : value);
  await writeFile(join(ARTEFACTS, 'outlook.json'), `${JSON.stringify({ fleets: choices, tables }, round, 2)}\n`);
}

function short(tables: Record<string, Figures>): Record<string, number> {
  const figures: Record<string, number> = {};
  for (const [title, { of, closed, coverage }] of Object.entries(tables)) {
    figures[`${title}, C`] = of.outlook.harrellC;
    figures[`${title}, skill`] = of.outlook.skill;
    figures[`${title}, slope`] = of.outlook.slope;
    figures[`${title}, inside window`] = coverage.inside;
    figures[`${title}, way closed in C`] = closed.harrellC.fromBaseline;
    figures[`${title}, way closed in skill`] = closed.skill.fromBaseline;
  }
  return Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, Number(value.toFixed(3))]));
}
