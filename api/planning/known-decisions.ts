/**
 * Which of the things that people typed stand at an instant: made by then and not withdrawn by then. So a ranking of
 * an earlier day is not coloured by what was decided later.
 */
export function standingAt<Decision extends { createdUs: number; withdrawnUs: number | null }>(
  decisions: readonly Decision[],
  atUs: number,
): Decision[] {
  return decisions.filter(
    ({ createdUs, withdrawnUs }) => createdUs <= atUs && (withdrawnUs === null || withdrawnUs > atUs),
  );
}

/**
 * The key under which a decision or forecast about one component of one engine is found. The position's length keeps
 * `a` + `bc` apart from `ab` + `c`, whatever the texts hold.
 */
export function componentKey(of: { unit: string; position: string; component: string }): string {
  return `${of.component}:${of.position.length}:${of.position}${of.unit}`;
}
