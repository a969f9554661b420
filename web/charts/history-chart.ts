/** Service lives as bars and work orders as marks, a lane for each component, on the time axis of the indicators. */
import type { UnitView } from '../../api/contract/unit.ts';
import { date } from '../format.ts';
import { COMPONENT_WORDS, EVENT_WORDS, LIFE_END_WORDS, type Component } from '../words.ts';
import { AT, dateMs, framed, timeAxis, type Frame, type Spec, type TimeDomain } from './chart-frame.ts';
import { COMPONENT_COLOURS, INK, INK_SOFT, SHEET } from './colours.ts';

type Past = Pick<UnitView, 'asOfOn' | 'lives' | 'workOrders' | 'outlooks'>;

const LANE = 30;
const COMPONENTS = Object.keys(COMPONENT_COLOURS) as Component[];

export function historyChart(past: Past, domain: TimeDomain, frame: Frame): Spec {
  const used = COMPONENTS.filter(
    (each) =>
      past.lives.some((life) => life.component === each) || past.workOrders.some((order) => order.component === each),
  );
  const lanes = used.length === 0 ? COMPONENTS.slice(0, 2) : used;
  const x = AT;
  const y = {
    field: 'lane',
    type: 'nominal' as const,
    title: null,
    scale: { domain: lanes.map((each) => COMPONENT_WORDS[each]), padding: 0.3 },
    axis: { grid: false, labelLimit: frame.left - 8 },
  };
  const color = {
    field: 'component',
    type: 'nominal' as const,
    legend: null,
    scale: { domain: COMPONENTS, range: COMPONENTS.map((each) => COMPONENT_COLOURS[each]) },
  };
  const tooltip = { field: 'words', type: 'nominal' as const };
  return {
    ...framed(frame, LANE * lanes.length),
    layer: [
      {
        data: { values: lifeRows(past, domain) },
        mark: { type: 'rect', clip: true, opacity: 0.38, stroke: SHEET, strokeWidth: 2 },
        encoding: { x, x2: { field: 'end' }, y, color, tooltip },
      },
      {
        data: { values: windowRows(past, domain) },
        mark: { type: 'rect', clip: true, opacity: 0.85, height: 6 },
        encoding: { x, x2: { field: 'end' }, y, color, tooltip },
      },
      {
        data: { values: [{ at: dateMs(past.asOfOn) }] },
        mark: { type: 'rule', color: INK_SOFT },
        encoding: { x: timeAxis(domain) },
      },
      {
        data: { values: orderRows(past) },
        mark: { type: 'point', clip: true, size: 75, stroke: INK, strokeWidth: 1.5, opacity: 1 },
        encoding: {
          x,
          y,
          tooltip,
          shape: { field: 'shape', type: 'nominal', legend: null, scale: null },
          fill: { field: 'fill', type: 'nominal', legend: null, scale: null },
        },
      },
    ],
  };
}

function lifeRows({ lives, asOfOn }: Past, domain: TimeDomain) {
  return lives.map((life) => ({
    lane: COMPONENT_WORDS[life.component],
    component: life.component,
    at: Math.max(domain.from, dateMs(life.fittedOn ?? life.watchedFromOn)),
    end: dateMs(life.removedOn ?? (life.end === 'in_service' ? asOfOn : life.watchedToOn)),
    words: `${COMPONENT_WORDS[life.component]} fitted ${life.fittedOn === null ? 'on an unknown day' : date(life.fittedOn)}${life.fittedFrom === 'assumed' ? ' (assumed)' : ''}, ${LIFE_END_WORDS[life.end]}${life.removedOn === null ? '' : ` ${date(life.removedOn)}`}`,
  }));
}

function windowRows({ outlooks }: Past, domain: TimeDomain) {
  return outlooks.flatMap((outlook) =>
    outlook.windowEarlyOn === null
      ? []
      : [
          {
            lane: COMPONENT_WORDS[outlook.component],
            component: outlook.component,
            at: dateMs(outlook.windowEarlyOn),
            end: outlook.windowLateOn === null ? domain.to : Math.min(domain.to, dateMs(outlook.windowLateOn)),
            words: `Failure window from ${date(outlook.windowEarlyOn)}`,
          },
        ],
  );
}

/** A square: parts changed; a circle: anything else. Filled: unplanned. */
function orderRows({ workOrders }: Past) {
  return workOrders.flatMap((order) =>
    order.component === 'none'
      ? []
      : [
          {
            lane: COMPONENT_WORDS[order.component],
            at: dateMs(order.openedOn),
            shape: order.event === 'replaced' ? 'square' : 'circle',
            fill: order.unplanned ? INK : SHEET,
            words: `${order.workOrder}, ${date(order.openedOn)}: ${EVENT_WORDS[order.event].toLowerCase()}${order.unplanned ? ', unplanned' : ''}`,
          },
        ],
  );
}
