/** The rows of the settings page: each field with its name, unit, default and what is wrong with what was typed. */
import type { SettingsAnswer } from '../../api/contract/settings.ts';
import type { SettingRow } from '../elements/settings-table.ts';
import { FIELDS, fieldText, type Draft, type Field } from './settings-fields.ts';

/** What is no assumption about costs has its name and source here. */
const OWN_NAMES: Readonly<Record<string, { name: string; source: string }>> = {
  currency: { name: 'Currency', source: 'from memory; amounts are not converted when it changes' },
  timeZone: { name: 'Time zone of the fleet', source: 'a day begins and ends in it; counts with the next assess' },
  keptNewestWaveforms: {
    name: 'Waveforms kept of each engine’s newest cranks',
    source: 'convention of this program; counts with the next load',
  },
};

const UNITS: Readonly<Record<Field['kind'], string>> = {
  money: '',
  hours: 'h',
  days: 'days',
  count: 'cranks',
  currency: '',
  zone: '',
};

export type Page = { answer: SettingsAnswer; draft: Draft; refusals: ReadonlyMap<string, string> };

export function settingRows({ answer, draft, refusals }: Page): SettingRow[] {
  const { settings, defaults, assumptions } = answer;
  const currency = draft.get('currency') ?? settings.currency;
  return FIELDS.map((field) => {
    const { setting, kind } = field;
    const named = OWN_NAMES[setting] ?? assumptions.find((each) => each.setting === setting);
    return {
      setting,
      name: named?.name ?? setting,
      unit: kind === 'money' ? currency : UNITS[kind],
      text: draft.get(setting) ?? fieldText(field, settings),
      defaultText: fieldText(field, { ...defaults, currency: settings.currency }),
      source: named?.source ?? '',
      refusal: refusals.get(setting) ?? '',
      choices: choicesOf(field),
    };
  });
}

function choicesOf({ kind }: Field): readonly string[] {
  if (kind === 'currency') return Intl.supportedValuesOf('currency');
  return kind === 'zone' ? ['UTC', ...Intl.supportedValuesOf('timeZone')] : [];
}
