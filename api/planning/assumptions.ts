import type { Assumption } from '../contract/ranking.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../etl/model/settings.ts';
import { majorText } from './money.ts';

/** Every figure that the ranking rests on and nobody measured, with where it comes from. */
type Line = { name: string; setting: string; source: string; value: (settings: Settings) => string };

const money = (minor: number, { currency }: Settings) => `${currency} ${majorText(minor, currency)}`;
const hours = (value: number) => `${value} h`;
const MEMORY = 'from memory; replace it by your own';

const LINES: readonly Line[] = [
  {
    name: 'Battery, parts',
    setting: 'costs.battery.partsMinor',
    source: MEMORY,
    value: (s) => money(s.costs.battery.partsMinor, s),
  },
  {
    name: 'Battery, labour',
    setting: 'costs.battery.laborHours',
    source: 'from memory: a set takes 0.5 to 1 h',
    value: (s) => hours(s.costs.battery.laborHours),
  },
  {
    name: 'Starter, parts',
    setting: 'costs.starter.partsMinor',
    source: MEMORY,
    value: (s) => money(s.costs.starter.partsMinor, s),
  },
  {
    name: 'Starter, labour',
    setting: 'costs.starter.laborHours',
    source: 'from memory: 1 to 3 h',
    value: (s) => hours(s.costs.starter.laborHours),
  },
  {
    name: 'Labour, an hour',
    setting: 'laborRateMinorPerHour',
    source: MEMORY,
    value: (s) => money(s.laborRateMinorPerHour, s),
  },
  {
    name: 'Downtime, an hour',
    setting: 'downtimeRateMinorPerHour',
    source: 'from memory: USD 70 to 100 for a truck',
    value: (s) => money(s.downtimeRateMinorPerHour, s),
  },
  {
    name: 'Road call',
    setting: 'roadCallMinor',
    source: 'average US roadside mechanical repair 2020, trade benchmarking',
    value: (s) => money(s.roadCallMinor, s),
  },
  {
    name: 'Downtime of a replacement at a visit',
    setting: 'downtimeHoursAtVisit',
    source: 'the unit stands in the bay anyway',
    value: (s) => hours(s.downtimeHoursAtVisit),
  },
  {
    name: 'Downtime when pulled in',
    setting: 'downtimeHoursPulledIn',
    source: MEMORY,
    value: (s) => hours(s.downtimeHoursPulledIn),
  },
  {
    name: 'Downtime after a failure on the road',
    setting: 'downtimeHoursUnplanned',
    source: 'from memory: one working day',
    value: (s) => hours(s.downtimeHoursUnplanned),
  },
  {
    name: 'Next visit where none is known',
    setting: 'assumedVisitDays',
    source: 'convention of this program',
    value: (s) => `${s.assumedVisitDays} days after the as-of day`,
  },
];

export function assumptions(settings: Settings): Assumption[] {
  return LINES.map(({ name, setting, source, value }) => {
    const isDefault = value(settings) === value({ ...DEFAULT_SETTINGS, currency: settings.currency });
    return {
      name,
      setting,
      value: value(settings),
      from: isDefault ? 'default' : 'set',
      source: isDefault ? source : 'set by the fleet’s people',
    };
  });
}
