/**
 * Positions that only records name. A log that never says a position is of the one engine that its unit has, or of one
 * that nobody can tell: what records say of `left` (a shop's code for where a part sits, as often as an engine) is then
 * said of that engine. Left apart, the engine that cranks would have no records, and the one with records no cranks.
 */
type Placed = { unit: string; position: string };

/** The units whose every logged engine stands at position ''. */
export function unitsOfOneLog(logged: readonly { unit: { unit: string }; position: string }[]): Set<string> {
  const units = new Set(logged.map(({ unit }) => unit.unit));
  for (const { unit, position } of logged) if (position !== '') units.delete(unit.unit);
  return units;
}

/** The rows, those of such units without their position. */
export function placedAsLogged<Row extends Placed>(rows: readonly Row[], units: ReadonlySet<string>): Row[] {
  return rows.map((row) => (row.position !== '' && units.has(row.unit) ? { ...row, position: '' } : row));
}
