import type { App, AppContext } from '../app-context.ts';
import { SettingsAnswer, SettingsPatch } from '../contract/settings.ts';
import { assumptions } from '../planning/assumptions.ts';
import { isCurrency } from '../planning/money.ts';
import { ProblemError } from '../problem-error.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';
import { isTimeZone } from '../../etl/model/time.ts';

/** What the fleet's people decide: prices, hours, zone; each shown with where it comes from. */
export function settingsRoutes(app: App, { store }: AppContext): void {
  const answer = async (): Promise<SettingsAnswer> => {
    const [settings, version] = await Promise.all([store.settings(), store.settingsVersion()]);
    return { version, settings, defaults: DEFAULT_SETTINGS, assumptions: assumptions(settings) };
  };
  const response = { 200: SettingsAnswer };
  app.get('/api/settings', { schema: { response, summary: 'Settings and assumptions' } }, answer);
  app.put(
    '/api/settings',
    { schema: { body: SettingsPatch, response, summary: 'Changes the settings that are named, keeps the others' } },
    async ({ body }) => {
      refuseUnknown(body);
      await store.saveSettings(body);
      return answer();
    },
  );
}

function refuseUnknown({ currency, timeZone }: SettingsPatch): void {
  if (currency !== undefined && !isCurrency(currency))
    throw new ProblemError(400, `currency requires an ISO 4217 code, got ${currency}`, 'Name it as in USD or EUR.');
  if (timeZone !== undefined && !isTimeZone(timeZone))
    throw new ProblemError(400, `time zone requires an IANA name, got ${timeZone}`, 'Name it as in Europe/Berlin.');
}
