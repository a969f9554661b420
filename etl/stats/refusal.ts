/**
 * The answer of a statistic that cannot be had: too few points, a value outside the domain, nothing to fit.
 * Message: `<what> requires <condition>, got <value> (<where>)`, where `where` names the argument.
 *
 * @example new StatisticsRefusal('median', 'at least one value', 0, 'values').message
 *          // 'median requires at least one value, got 0 (values)'
 */
export class StatisticsRefusal extends Error {
  override name = 'StatisticsRefusal';

  constructor(what: string, condition: string, got: number | string, where: string) {
    super(`${what} requires ${condition}, got ${got} (${where})`);
  }
}
