import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/**
 * The browser tests drive Debian's chromium. Where it is missing and we are root on a machine with apt, it is
 * installed; elsewhere the run stops here and names what it lacks.
 */
const CHROMIUM = '/usr/bin/chromium';
const INSTALL = ['install', '-y', '--no-install-recommends', 'chromium', 'fonts-dejavu-core'];

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

function installChromium(): void {
  say('chromium is missing: installing it with apt-get (about a minute)');
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  execFileSync('apt-get', ['update', '-qq'], { stdio: ['ignore', 'ignore', 'inherit'], env });
  execFileSync('apt-get', INSTALL, { stdio: ['ignore', 'ignore', 'inherit'], env });
}

if (!existsSync(CHROMIUM)) {
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) installChromium();
  if (!existsSync(CHROMIUM)) {
    say(`The browser tests require chromium at ${CHROMIUM}. Remedy: sudo apt-get ${INSTALL.join(' ')}`);
    process.exitCode = 1;
  }
}
