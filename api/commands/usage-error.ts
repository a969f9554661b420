import { counted } from '../../etl/model/counted.ts';

/** What commander says of a wrong call, in the program's own grammar: `<what> requires <condition>, got <value> (<where>)`. */
export function usageWords(text: string, name: string): string {
  const [line = '', hint = ''] = text
    .trim()
    .replace(/^error: /, '')
    .split('\n');
  for (const [pattern, words] of USAGE) {
    const found = pattern.exec(line);
    if (found !== null) return `${words(name, found)}${hint === '' ? '' : ` ${hint}`}\n`;
  }
  return `${line} (${helpOf(name)})\n`;
}

const PROGRAM = 'crankledger';
const helpOf = (name: string) => (name === PROGRAM ? `${PROGRAM} --help` : `${PROGRAM} ${name} --help`);

type Words = (name: string, found: RegExpExecArray) => string;

const USAGE: readonly (readonly [RegExp, Words])[] = [
  [
    /^unknown command '(.*)'/,
    (name, [, got]) => `${name} requires a command that it has, got ${got} (${helpOf(name)})`,
  ],
  [/^unknown option '(.*)'/, (name, [, got]) => `${name} requires an option that it has, got ${got} (${helpOf(name)})`],
  [/^missing required argument '(.*)'/, (name, [, it]) => `${name} requires <${it}>, got none (${helpOf(name)})`],
  [/^required option '(.*)' not specified/, (name, [, it]) => `${name} requires ${it}, got none (${helpOf(name)})`],
  [/^option '(\S+).*' argument missing/, (name, [, it]) => `${it} requires a value, got none (${helpOf(name)})`],
  [
    /^option '(\S+).*' argument '(.*)' is invalid\. Allowed choices are (.*)\.$/,
    (_, [, it, got, choices]) => `${it} requires one of ${choices}, got ${got || 'nothing'} (${it})`,
  ],
  [
    /^too many arguments.* Expected (\d+) arguments? but got (\d+)/,
    (name, [, most, got]) => {
      const taken = most === '0' ? 'no arguments' : `at most ${counted(Number(most), 'argument')}`;
      return `${name} requires ${taken}, got ${got} (${helpOf(name)})`;
    },
  ],
];
