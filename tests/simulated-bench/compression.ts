/**
 * Torque that the gas in the cylinders puts on the crankshaft over one working cycle (720°), by slider-crank kinematics
 * and polytropic compression; the expansion gives back less than the compression took. Not sinusoidal: it rises steeply
 * towards top dead centre and turns over within some 40°.
 *
 *     p(V) = p₀ (V₀/V)ⁿ      T = (p − p₀) · A · r · sin θ · (1 + λ cos θ)
 */
import type { EngineDesign } from './vehicle.ts';

export const CYCLE_POINTS = 1440;
const CYCLE = 4 * Math.PI;
const ROD = 0.29;

/** Torque against the starter, positive, over [0, 720°); scaled so that its peak is 1. */
export function compressionCycle(engine: EngineDesign): Float64Array {
  const cycle = new Float64Array(CYCLE_POINTS);
  const count = engine.cylinder.length;
  for (let point = 0; point < CYCLE_POINTS; point++)
    for (let each = 0; each < count; each++) {
      const angle = (point / CYCLE_POINTS + each / count) * CYCLE;
      cycle[point] = cycle[point]! + engine.cylinder[each]! * ofOne(angle % CYCLE, engine);
    }
  const peak = cycle.reduce((most, value) => Math.max(most, value), 0);
  return cycle.map((value) => value / peak);
}

/** Torque of gas expanding after firing, over the cycle: exponential from top dead centre on. Mean 1. */
export function firingCycle(engine: EngineDesign): Float64Array {
  const count = engine.cylinder.length;
  const cycle = new Float64Array(CYCLE_POINTS);
  for (let point = 0; point < CYCLE_POINTS; point++)
    for (let each = 0; each < count; each++) {
      const after = (((point / CYCLE_POINTS + each / count) * CYCLE) % CYCLE) - CYCLE / 2;
      if (after > 0 && after < Math.PI) cycle[point] = cycle[point]! + Math.sin(after) * Math.exp(-1.6 * after);
    }
  const mean = cycle.reduce((sum, value) => sum + value, 0) / CYCLE_POINTS;
  return cycle.map((value) => value / mean);
}

/** One cylinder: intake [0, π), compression [π, 2π), expansion [2π, 3π), exhaust [3π, 4π). */
function ofOne(angle: number, { polytropic, ratio, lost }: EngineDesign): number {
  if (angle < Math.PI || angle >= 3 * Math.PI) return 0;
  const fromTop = angle - 2 * Math.PI;
  const stroke = (1 - Math.cos(fromTop)) / 2 + (ROD / 4) * Math.sin(fromTop) ** 2;
  const volume = 1 / ratio + stroke * (1 - 1 / ratio);
  const pressure = volume ** -polytropic - 1;
  const torque = -Math.sin(fromTop) * (1 + ROD * Math.cos(fromTop)) * pressure;
  return torque > 0 ? torque : torque * (1 - lost);
}
