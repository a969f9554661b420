/** What the page's fields and codes would change, as it is sent. */
import type { SettingsAnswer, SettingsPatch } from '../../api/contract/settings.ts';
import type { SystemCode } from '../../api/contract/system-codes.ts';
import { patchOf, type Draft, type Values } from './settings-fields.ts';

/** What a person has said of codes and not saved yet; null takes a meaning away. */
export type CodeDraft = ReadonlyMap<string, SystemCode['component']>;
export type Typed = { answer: SettingsAnswer; draft: Draft; codeDraft: CodeDraft };
export type Changes = { patch: SettingsPatch; refusals: ReadonlyMap<string, string>; count: number };

export function changesOf({ answer, draft, codeDraft }: Typed): Changes {
  const { settings } = answer;
  const fields = patchOf(draft, settings);
  const said = [...codeDraft].filter(([code, component]) => (settings.systemCodes[code] ?? null) !== component);
  const codes = said.length === 0 ? {} : { systemCodes: codeMap(settings.systemCodes, codeDraft) };
  const patch = { ...fields.patch, ...codes };
  return { patch, refusals: fields.refusals, count: fields.count + said.length };
}

function codeMap(standing: Values['systemCodes'], said: CodeDraft): Values['systemCodes'] {
  const map = new Map(Object.entries(standing));
  for (const [code, component] of said)
    if (component === null) map.delete(code);
    else map.set(code, component);
  return Object.fromEntries(map);
}

/** The codes with what the page has them mean. */
export function codesAsSaid(
  codes: readonly SystemCode[],
  standing: Values['systemCodes'],
  said: CodeDraft,
): SystemCode[] {
  return codes.map((code) => {
    const given = said.get(code.code);
    return { ...code, component: given === undefined ? (standing[code.code] ?? null) : given };
  });
}
