import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { QUALITY_WORDS } from '../etl/model/words.ts';
import { ROOT, sourceFiles } from './support/source-files.ts';

/** The documents are held to their word: every command, path, link and route that they name exists. */
const DOCUMENTS = ['README.md', 'DEVELOPERS.md', 'sample-data/README.md'];
const texts = DOCUMENTS.map((path) => ({ path, text: readFileSync(join(ROOT, path), 'utf8') }));

const { scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { scripts: Record<string, string> };
/** Help texts as they were asked for: each call starts a process. */
const helps = new Map<string, string>();
function cli(words: string[]): string {
  const command = [join(ROOT, '.build/program/cli.js'), ...words, '--help'];
  const help = helps.get(words.join(' ')) ?? execFileSync(process.execPath, command, { encoding: 'utf8' });
  helps.set(words.join(' '), help);
  return help;
}

describe.each(texts)('$path', ({ path, text }) => {
  it('names npm scripts that exist', () => {
    const named = [...text.matchAll(/\bnpm (?:run (?:-s )?)?([a-z][\w:-]*)/g)].map((match) => match[1]!);
    const known = [...Object.keys(scripts), 'ci', 'install', 'run'];
    expect(named.filter((script) => !known.includes(script))).toEqual([]);
  });

  it('names commands and options of the command line that exist', () => {
    const calls = [...text.matchAll(/(?:npm run -s cli -- |crankledger )([a-z]+)((?: +[^\s`|]+)*)/g)];
    const commands = cli([]);
    for (const [, command = '', rest = ''] of calls) {
      expect(commands, `command ${command}`).toMatch(new RegExp(`^\\s+${command}\\b`, 'm'));
      const help = cli([command]);
      for (const option of rest.match(/--[a-z-]+/g) ?? []) expect(help, `${command} ${option}`).toContain(option);
    }
  });

  it('links to files that exist', () => {
    const links = [...text.matchAll(/\]\((?!https?:|#)([^)#\s]+)/g)].map((match) => match[1]!);
    expect(links.filter((link) => !existsSync(join(ROOT, dirname(path), link)))).toEqual([]);
  });

  it('names paths of the project that exist', () => {
    const paths = [...text.matchAll(/`((?:api|etl|web|tests|sample-data|\.ci)\/[\w./-]*)`/g)].map((match) => match[1]!);
    expect(paths.filter((each) => !existsSync(join(ROOT, each)))).toEqual([]);
  });

  it('names routes that the server has', () => {
    const routes = sourceFiles(['api/routes', 'api/plugins'])
      .map((file) => file.text)
      .join('\n');
    const named = [...text.matchAll(/`(?:GET |PUT |POST |DELETE )?(\/(?:api|healthz)[\w/{}.-]*)`/g)].map(
      (match) => match[1]!,
    );
    const pattern = (route: string) => route.replace(/\{(\w+)\}/g, ':$1');
    expect(named.filter((route) => !routes.includes(pattern(route)))).toEqual([]);
  });
});

it('DEVELOPERS.md explains every quality word', () => {
  const text = texts.find(({ path }) => path === 'DEVELOPERS.md')!.text;
  expect(QUALITY_WORDS.filter((word) => !text.includes(`\`${word}\``))).toEqual([]);
});

it('README.md shows a picture of the dashboard', () => {
  const picture = /!\[[^\]]+\]\(([^)]+\.png)\)/.exec(texts[0]!.text)?.[1];
  expect(picture).toBeDefined();
  const bytes = readFileSync(join(ROOT, picture!));
  expect(bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
  expect(bytes.length).toBeGreaterThan(20_000);
});
