/**
 * What a straight line in time (least squares) leaves of a series: its level and its drift taken out.
 *
 * For: comparing how two series move from day to day, whatever each does over the years. Valid for any number of points;
 * of points on one day only the level is taken out. Shapes: days and values of one length; the unit of the values.
 *
 * @example withoutLine([0, 1, 2], [5, 7, 9]) // [0, 0, 0]
 */
export function withoutLine(day: readonly number[], values: readonly number[]): number[] {
  const [meanDay, meanValue] = [mean(day), mean(values)];
  let [cross, square] = [0, 0];
  day.forEach((at, i) => {
    cross += (at - meanDay) * (values[i]! - meanValue);
    square += (at - meanDay) ** 2;
  });
  const slope = square > 0 ? cross / square : 0;
  return values.map((value, i) => value - meanValue - slope * (day[i]! - meanDay));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
