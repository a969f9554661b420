/**
 * `node .build/node/tests/support/screenshot.js <origin> <file.png>`: a picture of the list, light, 1440 by 900, from
 * a running server. The README's picture is made so.
 */
import { mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { startChromium, watchedPage } from '../browser/watched-browser.ts';

/** A picture in a repository is fetched by everyone who clones it. */
const MOST_BYTES = 400_000;

const [origin, file] = process.argv.slice(2);
if (origin === undefined || file === undefined) {
  process.stderr.write('screenshot requires an origin and a file, as in: http://127.0.0.1:4680 list.png\n');
  process.exitCode = 2;
} else {
  await takePicture(new URL(origin).origin, file);
}

async function takePicture(from: string, to: string): Promise<void> {
  const browser = await startChromium();
  try {
    const { page, problems } = await watchedPage(browser, from, { colorScheme: 'light' });
    await page.goto('/');
    await page.locator('tr[data-index="0"] svg.window').waitFor();
    mkdirSync(dirname(to), { recursive: true });
    await page.screenshot({ path: to, animations: 'disabled' });
    if (problems.length > 0) throw new Error(`screenshot requires a silent console, got ${problems.join('; ')}`);
  } finally {
    await browser.close();
  }
  const { size } = statSync(to);
  if (size > MOST_BYTES) throw new Error(`screenshot requires at most ${MOST_BYTES} bytes, got ${size} (${to})`);
  process.stdout.write(`${to}, ${size} bytes\n`);
}
