/** Whether anything could be forecast of a component: where not, `basis` holds `none`, and `evidence` says why. */
export function isForeseen({ basis }: { basis: readonly string[] }): boolean {
  return !basis.includes('none');
}
