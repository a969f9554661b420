/** A day on which the voltage of one engine jumped as it does when its battery is exchanged for a better one. */
export type BatteryStep = {
  /** First day (since 1970) on the new level. */
  day: number;
  /** Change of the log sag ratio, below 0: −0.4 is a third less resistance against the rest of the loop. */
  size: number;
};
