/**
 * Draws a specification. The only file that loads the chart library; it is imported lazily. Expressions run through
 * vega's interpreter, since the page forbids code made from text; SVG, so that colours follow the page's.
 */
import { parse, View } from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile } from 'vega-lite';
import type { Spec } from './chart-frame.ts';

export type DrawnChart = { finalize(): void };

export async function drawChart(spec: Spec, host: HTMLElement): Promise<DrawnChart> {
  const runtime = parse(compile(spec).spec, undefined, { ast: true });
  const view = new View(runtime, { renderer: 'svg', expr: expressionInterpreter, hover: false });
  await view.initialize(host).runAsync();
  // The element around it carries the description in words; hundreds of marks read out one by one would bury it.
  host.querySelector('svg')?.setAttribute('aria-hidden', 'true');
  return { finalize: () => void view.finalize() };
}
