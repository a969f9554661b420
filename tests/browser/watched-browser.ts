/** Debian's chromium, and pages in it that write down whatever should not have happened. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type BrowserContext, type BrowserContextOptions, type Page } from 'playwright-core';

/** As root in a container, with nothing that asks the network by itself. */
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export function startChromium(): Promise<Browser> {
  return chromium.launch({ executablePath: '/usr/bin/chromium', args: FLAGS });
}

/** A page of a browser whose user has set letters to 32 px in place of 16. */
export async function largeLetters(origin: string): Promise<{ page: Page; close: () => Promise<void> }> {
  const profile = await mkdtemp(join(tmpdir(), 'large-letters-'));
  await mkdir(join(profile, 'Default'));
  const preferences = { webkit: { webprefs: { default_font_size: 32 } } };
  await writeFile(join(profile, 'Default', 'Preferences'), JSON.stringify(preferences));
  const executablePath = '/usr/bin/chromium';
  const context = await chromium.launchPersistentContext(profile, { executablePath, args: FLAGS, baseURL: origin });
  const page = await context.newPage();
  const close = async () => {
    await context.close();
    await rm(profile, { recursive: true, force: true });
  };
  return { page, close };
}

export type WatchedPage = { page: Page; context: BrowserContext; problems: string[] };

/**
 * Problems are errors and warnings of the console (a breach of the content policy is one), uncaught errors, dialogs,
 * answers of 400 and above, and requests to anywhere but the origin.
 */
export async function watchedPage(
  browser: Browser,
  origin: string,
  options: BrowserContextOptions = {},
): Promise<WatchedPage> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, baseURL: origin, ...options });
  const page = await context.newPage();
  const problems: string[] = [];
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) problems.push(`console ${message.type()}: ${message.text()}`);
  });
  page.on('pageerror', (error) => problems.push(`uncaught: ${error.message}`));
  page.on('dialog', (dialog) => {
    problems.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    if (!request.url().startsWith(`${origin}/`)) problems.push(`foreign request: ${request.url()}`);
  });
  page.on('response', (response) => {
    if (response.status() >= 400) problems.push(`${response.status()}: ${response.url()}`);
  });
  return { page, context, problems };
}
