/**
 * What the fleet's people decide, with the defaults that stand until they do. Every figure is shown as an assumption.
 * Sources: trade figures as noted; "from memory" means common figures that nobody has looked up for this fleet.
 */
export type ComponentCost = {
  /** Parts of a planned replacement, minor units of the currency. */
  partsMinor: number;
  laborHours: number;
};

export type Settings = {
  currency: string;
  timeZone: string;
  laborRateMinorPerHour: number;
  downtimeRateMinorPerHour: number;
  /** Roadside repair or tow on an unplanned failure. */
  roadCallMinor: number;
  /** Hours a unit stands still: replaced at a visit that happens anyway / pulled in for it / failed on the road. */
  downtimeHoursAtVisit: number;
  downtimeHoursPulledIn: number;
  downtimeHoursUnplanned: number;
  /** Days to the next visit where nothing is booked and no date is known. */
  assumedVisitDays: number;
  costs: { battery: ComponentCost; starter: ComponentCost };
  /** The fleet's own repair codes → component; empty until the user maps them. */
  systemCodes: Record<string, 'battery' | 'starter' | 'cables' | 'control' | 'charging' | 'none'>;
  /** Waveforms kept: the newest so many cranks of each engine, one a week before that, and all that are not steady. */
  keptNewestWaveforms: number;
};

export const DEFAULT_SETTINGS: Settings = {
  currency: 'USD',
  timeZone: 'UTC',
  laborRateMinorPerHour: 12_000, // from memory
  downtimeRateMinorPerHour: 8_500, // from memory: $70–100 an hour for a truck
  roadCallMinor: 49_100, // average US roadside mechanical repair 2020, trade benchmarking
  downtimeHoursAtVisit: 0, // the unit stands in the bay anyway
  downtimeHoursPulledIn: 3, // from memory
  downtimeHoursUnplanned: 8, // from memory: one working day, $450–1,000
  assumedVisitDays: 90, // convention of this program: shown as assumed wherever it is used
  costs: {
    battery: { partsMinor: 32_000, laborHours: 0.75 }, // hours from memory: a set takes 0.5–1 h
    starter: { partsMinor: 42_000, laborHours: 2 }, // hours from memory: 1–3 h
  },
  systemCodes: {},
  keptNewestWaveforms: 20,
};
