/** Logger kind and sampling-rate band (an octave around 10, 20, 40, … Hz): what a dip reads depends on both. */
export function stratumOf(source: number, rateHz: number): number {
  const band = Number.isNaN(rateHz) ? 0 : Math.max(1, Math.min(15, 2 + Math.round(Math.log2(rateHz / 10))));
  return (Number.isNaN(source) ? 3 : source) * 16 + band;
}
