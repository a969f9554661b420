/** All that is drawn of one engine, made once so that charts are redrawn only when something changed. */
import type { PartSince, UnitOutlook, UnitTrend, UnitView } from '../../api/contract/unit.ts';
import type { IndicatorContext } from '../charts/indicator-chart.ts';
import { historyChart } from '../charts/history-chart.ts';
import { survivalChart } from '../charts/survival-chart.ts';
import { unitTimeDomain } from '../charts/unit-time-domain.ts';
import type { MakeSpec } from '../elements/vega-chart.ts';

export type EngineView = {
  position: string;
  unit: UnitView;
  outlooks: UnitOutlook[];
  drifting: UnitTrend[];
  without: UnitTrend[];
  contextOf: (component: string) => IndicatorContext;
  history: MakeSpec;
  survival: MakeSpec;
};

export function engineView(unit: UnitView, wanted: string, left: number): EngineView {
  const position = unit.positions.includes(wanted) ? wanted : (unit.positions[0] ?? '');
  const outlooks = unit.outlooks.filter((each) => each.position === position);
  const trends = unit.trends.filter((each) => each.position === position);
  const lives = unit.lives.filter((each) => each.position === position);
  const workOrders = unit.workOrders.filter((each) => ofEngine(each, position));
  const past = { asOfOn: unit.asOfOn, lives, workOrders, outlooks, trends };
  const domain = unitTimeDomain(past);
  const drawn = trends.filter(hasShape);
  const ended = unit.since.filter((each) => each.position === position && hasEnded(each));
  const nextVisitOn = unit.ranking[0]?.nextVisitOn ?? null;
  const contextOf = (component: string): IndicatorContext => ({
    domain,
    asOfOn: unit.asOfOn,
    outlook: outlooks.find((each) => each.component === component) ?? null,
    replacedOn: lives.flatMap((life) =>
      life.component === component && life.removedOn !== null ? [life.removedOn] : [],
    ),
  });
  const contexts = new Map(outlooks.map((each) => [each.component as string, contextOf(each.component)]));
  return {
    position,
    unit,
    outlooks,
    drifting: drawn.filter((each) => !repeats(each, drawn)),
    without: trends.filter((each) => !hasShape(each)),
    contextOf: (component) => contexts.get(component) ?? contextOf(component),
    history: (width) => historyChart(past, domain, { width, left }),
    survival: (width) => survivalChart(outlooks, { asOfOn: unit.asOfOn, nextVisitOn, ended }, { width, left }),
  };
}

/** Days that all have one value, such as no dropout ever, say as much in a sentence. */
function hasShape({ values }: UnitTrend): boolean {
  return values.some((value) => value !== values[0]);
}

/** The sag ratio speaks for both components; while both are of one age it is the same picture twice. */
function repeats(trend: UnitTrend, drawn: readonly UnitTrend[]): boolean {
  const first = drawn.find((each) => each.indicator === trend.indicator && each.sinceOn === trend.sinceOn);
  return first !== trend;
}

/** A record that names no position concerns every engine of the unit. */
export function ofEngine(order: { position: string }, position: string): boolean {
  return order.position === '' || order.position === position;
}

/** Whether it is known on which day a part went. */
export function hasEnded({ end }: PartSince): boolean {
  return end === 'failure' || end === 'planned';
}
