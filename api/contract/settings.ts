import { Type, type Static } from 'typebox';
import { Assumption } from './ranking.ts';
import { minor, text } from './scalars.ts';
import { COMPONENTS } from '../../etl/model/words.ts';

const closed = { additionalProperties: false };
const money = Type.Integer({ ...minor, minimum: 0, maximum: 1e12 });
const hours = Type.Number({ minimum: 0, maximum: 10_000 });
const cost = Type.Object({ partsMinor: money, laborHours: hours }, closed);

export const SettingsValues = Type.Object(
  {
    currency: Type.String({ pattern: '^[A-Z]{3}$', description: 'ISO 4217' }),
    timeZone: Type.String({ minLength: 1, maxLength: 60, description: 'IANA name' }),
    laborRateMinorPerHour: money,
    downtimeRateMinorPerHour: money,
    roadCallMinor: money,
    downtimeHoursAtVisit: hours,
    downtimeHoursPulledIn: hours,
    downtimeHoursUnplanned: hours,
    assumedVisitDays: Type.Integer({ minimum: 1, maximum: 1826 }),
    costs: Type.Object({ battery: cost, starter: cost }, closed),
    systemCodes: Type.Record(Type.String({ maxLength: 100 }), Type.Enum([...COMPONENTS, 'none'])),
    keptNewestWaveforms: Type.Integer({ minimum: 0, maximum: 1000 }),
  },
  closed,
);

export type SettingsValues = Static<typeof SettingsValues>;

/** What may be sent: any of the values; what is left out stays. */
export const SettingsPatch = Type.Partial(SettingsValues, closed);
export type SettingsPatch = Static<typeof SettingsPatch>;

export const SettingsAnswer = Type.Object({
  version: text,
  settings: SettingsValues,
  /** What stands where nobody has set anything. */
  defaults: SettingsValues,
  assumptions: Type.Array(Assumption),
});
export type SettingsAnswer = Static<typeof SettingsAnswer>;
