/** Fewer points for the same picture: a chart of more than some thousand marks is slow and no clearer. */
export const MOST_POINTS = 2000;

/** Every so-manieth row, first and last always among them. */
export function thinEvenly<Row>(rows: readonly Row[], most = MOST_POINTS): Row[] {
  if (rows.length <= most) return [...rows];
  const step = (rows.length - 1) / (most - 1);
  return Array.from({ length: most }, (_, index) => rows[Math.round(index * step)]!);
}

/**
 * Indexes that keep the shape of a curve: of each stretch its lowest and its highest sample, in their order. The dip
 * of a crank lasts a few samples; thinning evenly would lose it.
 */
export function thinKeepingExtremes(values: readonly number[], most = MOST_POINTS): number[] {
  if (values.length <= most) return values.map((_, index) => index);
  const stretches = Math.max(1, Math.floor((most - 2) / 2));
  const inner = values.length - 2;
  const kept = [0];
  for (let stretch = 0; stretch < stretches; stretch++) {
    const from = 1 + Math.floor((stretch * inner) / stretches);
    const to = 1 + Math.floor(((stretch + 1) * inner) / stretches);
    let [low, high] = [from, from];
    for (let index = from; index < to; index++) {
      if (values[index]! < values[low]!) low = index;
      if (values[index]! > values[high]!) high = index;
    }
    kept.push(...(low === high ? [low] : [Math.min(low, high), Math.max(low, high)]));
  }
  kept.push(values.length - 1);
  return kept;
}
