import { parse, View } from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile } from 'vega-lite';
import type { Spec } from '../../web/charts/chart-frame.ts';

export type CompiledChart = {
  /** What the chart library complained of: each would stand in the browser's console. */
  warnings: string[];
  /** The domain of a scale, as drawn. */
  domain: (scale: string) => unknown[];
  /** The drawing as SVG text. */
  svg: string;
};

/** Compiles and draws a specification without a browser, by the same interpreter as the page. */
export async function compileChart(spec: Spec): Promise<CompiledChart> {
  const warnings: string[] = [];
  const collecting = {
    level: () => collecting,
    error: (...words: unknown[]) => (warnings.push(words.join(' ')), collecting),
    warn: (...words: unknown[]) => (warnings.push(words.join(' ')), collecting),
    info: () => collecting,
    debug: () => collecting,
  };
  const { spec: compiled } = compile(spec, { logger: collecting });
  const view = new View(parse(compiled, undefined, { ast: true }), {
    expr: expressionInterpreter,
    renderer: 'none',
    logger: collecting,
  });
  await view.runAsync();
  const svg = await view.toSVG();
  const domain = (scale: string) => (view.scale(scale) as { domain: () => unknown[] }).domain();
  return { warnings, domain, svg };
}
