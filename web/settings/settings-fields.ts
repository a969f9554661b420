/** The settings that are single values: how each is shown as text, and how what was typed becomes a value again. */
import type { SettingsPatch, SettingsValues } from '../../api/contract/settings.ts';
import { amount, minorDigits } from '../format.ts';

export type Values = SettingsValues;
export type FieldKind = 'money' | 'hours' | 'days' | 'count' | 'currency' | 'zone';
/** `setting`: where it stands, `costs.battery.partsMinor`. */
export type Field = { setting: string; kind: FieldKind; least: number; most: number };

const MOST_MINOR = 1e12;
const hours = { kind: 'hours', least: 0, most: 10_000 } as const;
const money = { kind: 'money', least: 0, most: MOST_MINOR } as const;

/** In the order of the page; limits are those of the server's schema. */
export const FIELDS: readonly Field[] = [
  { setting: 'currency', kind: 'currency', least: 0, most: 0 },
  { setting: 'costs.battery.partsMinor', ...money },
  { setting: 'costs.battery.laborHours', ...hours },
  { setting: 'costs.starter.partsMinor', ...money },
  { setting: 'costs.starter.laborHours', ...hours },
  { setting: 'laborRateMinorPerHour', ...money },
  { setting: 'downtimeRateMinorPerHour', ...money },
  { setting: 'roadCallMinor', ...money },
  { setting: 'downtimeHoursAtVisit', ...hours },
  { setting: 'downtimeHoursPulledIn', ...hours },
  { setting: 'downtimeHoursUnplanned', ...hours },
  { setting: 'assumedVisitDays', kind: 'days', least: 1, most: 1826 },
  { setting: 'timeZone', kind: 'zone', least: 0, most: 0 },
  { setting: 'keptNewestWaveforms', kind: 'count', least: 0, most: 1000 },
];

/** What was typed, by setting; what is not in it stands as it was. */
export type Draft = ReadonlyMap<string, string>;

export function valueOf(values: Values, setting: string): string | number {
  const found = setting.split('.').reduce<unknown>((at, name) => (at as Record<string, unknown>)[name], values);
  return found as string | number;
}

/** As it stands in its field. */
export function fieldText({ setting, kind }: Field, values: Values): string {
  const value = valueOf(values, setting);
  return kind === 'money' ? amount(Number(value), values.currency) : String(value);
}

export type Read = { value: string | number } | { refusal: string };

/** A comma is taken for a decimal point; an amount may have as many decimals as its currency has. */
export function readField({ kind, least, most }: Field, typed: string, currency: string): Read {
  const text = typed.trim().replace(',', '.');
  if (kind === 'currency')
    return isCurrency(text) ? { value: text } : { refusal: 'A code of ISO 4217, as in USD or EUR.' };
  // Which zones there are the server knows: browsers list some under their former names.
  if (kind === 'zone') return text === '' ? { refusal: 'An IANA name, as in Europe/Berlin or UTC.' } : { value: text };
  if (kind === 'money') return readMoney(text, most, isCurrency(currency) ? currency : 'USD');
  const whole = kind !== 'hours';
  const value = Number(text);
  const fits = (whole ? /^\d+$/ : /^\d+(\.\d+)?$/).test(text) && value >= least && value <= most;
  return fits ? { value } : { refusal: `${whole ? 'A whole number' : 'A number'} from ${least} to ${most}.` };
}

/** Zeros beyond the currency's decimals change nothing: `320.00` stands when dollars become yen. */
function readMoney(text: string, most: number, currency: string): Read {
  const digits = minorDigits(currency);
  if (!new RegExp(`^\\d+(\\.\\d{0,${digits}}0*)?$`).test(text))
    return { refusal: `An amount in ${currency}, ${digits === 0 ? 'whole' : `at most ${digits} decimals`}.` };
  const value = Math.round(Number(text) * 10 ** digits);
  return value <= most ? { value } : { refusal: 'More than this program reckons with.' };
}

function isCurrency(text: string): boolean {
  return Intl.supportedValuesOf('currency').includes(text);
}

export type FieldChanges = { patch: SettingsPatch; refusals: Map<string, string>; count: number };

/**
 * What the draft changes, and what is wrong with it by setting. A new currency converts nothing: the amounts on the page
 * are taken as they stand, now in that currency, so all of them are sent.
 */
export function patchOf(draft: Draft, values: Values): FieldChanges {
  const currency = draft.get('currency') ?? values.currency;
  const changes = { patch: {} as Record<string, unknown>, refusals: new Map<string, string>(), count: 0 };
  for (const field of FIELDS) {
    const { setting } = field;
    const read = readField(field, draft.get(setting) ?? fieldText(field, values), currency);
    if ('refusal' in read) changes.refusals.set(setting, read.refusal);
    else if (read.value !== valueOf(values, setting)) {
      changes.count++;
      place(changes.patch, setting, { value: read.value, values });
    }
  }
  return changes;
}

/** `costs` is sent whole, as the server takes it. */
function place(
  patch: Record<string, unknown>,
  setting: string,
  { value, values }: { value: string | number; values: Values },
): void {
  const [name = '', component, part] = setting.split('.');
  if (component === undefined || part === undefined) {
    patch[name] = value;
    return;
  }
  const costs = (patch['costs'] ?? structuredClone(values.costs)) as Record<string, Record<string, unknown>>;
  costs[component]![part] = value;
  patch['costs'] = costs;
}

/** The values that a patch replaces: sent, they take it back. */
export function undoOf(patch: SettingsPatch, values: Values): SettingsPatch {
  return Object.fromEntries(Object.keys(patch).map((name) => [name, values[name as keyof Values]]));
}
