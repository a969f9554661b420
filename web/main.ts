/** The rim of the page: clock, network, storage and document are taken here and handed in. */
import { createApiClient } from './api-client.ts';
import { CrankLedger } from './crank-ledger.ts';
import { createThemeKeeper } from './theme.ts';

const page = document.querySelector('crank-ledger');
if (!(page instanceof CrankLedger))
  throw new Error('the page requires a <crank-ledger> element, got none (index.html)');
page.client = createApiClient(window.fetch.bind(window));
page.themes = createThemeKeeper(window.localStorage, document.documentElement);
page.todayOn = new Date().toISOString().slice(0, 10);
