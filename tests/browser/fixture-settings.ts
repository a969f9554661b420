/** Settings and codes of a made-up fleet. */
import type { SettingsAnswer } from '../../api/contract/settings.ts';
import type { SystemCodes } from '../../api/contract/system-codes.ts';
import { assumptions } from '../../api/planning/assumptions.ts';
import { DEFAULT_SETTINGS } from '../../etl/model/settings.ts';

const settings = { ...DEFAULT_SETTINGS, roadCallMinor: 60_000, systemCodes: { '32': 'battery' as const } };

export const FIXTURE_SETTINGS: SettingsAnswer = {
  version: '1',
  settings,
  defaults: DEFAULT_SETTINGS,
  assumptions: assumptions(settings),
};

export const FIXTURE_CODES: SystemCodes = {
  orders: 60,
  codes: [
    {
      code: '32',
      orders: 41,
      component: 'battery',
      read: { component: 'battery', orders: 39, ofRead: 40 },
      example: 'no crank / replaced batteries',
    },
    {
      code: '33',
      orders: 12,
      component: null,
      read: { component: 'starter', orders: 12, ofRead: 12 },
      example: 'clicks only / replaced starter',
    },
    { code: '13', orders: 7, component: null, read: null, example: 'brakes squeal / front pads' },
  ],
};
