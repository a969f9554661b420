import { expect, it } from 'vitest';
import { acceptingCommand } from '../../api/commands/alias.ts';
import { alikeUnits } from '../../etl/alike-units.ts';

it.each<[string, string[], string[], string[][]]>([
  ['case, blanks and marks', ['T-014'], ['T014', 't 014', 'T-015'], [['T-014', 'T014', 't 014']]],
  ['the registered one first', ['t014'], ['T-014'], [['t014', 'T-014']]],
  ['two in the register in their order', ['T014', 'T-014'], [], [['T-014', 'T014']]],
  ['none in the register', [], ['b 7', 'B7', 'A1', 'a1'], [['A1', 'a1'], ['B7', 'b 7']]], // prettier-ignore
  ['a mark between digits, which is part of the number', ['1-23', '12-3', '123'], ['1/23'], [['1-23', '1/23']]],
  ['marks alone, which are no number', ['-', '+', '../..'], ['='], []],
  ['one letter in two codings', ['Ü-1'], ['U\u03081', 'U1'], [['Ü-1', 'U\u03081']]],
  ['leading noughts, which are told apart', ['T-14'], ['T-014'], []],
  ['a number alone as a spreadsheet leaves it', ['42', '0'], ['0042', '42.0', '42.5', '420', '00'], [['0', '00'], ['42', '0042', '42.0']]], // prettier-ignore
  ['the marks by which a spreadsheet keeps it a text', ['014'], ['="014"', "'014", '14.0'], [['014', "'014", '14.0', '="014"']]], // prettier-ignore
])('%s', (_, registered, waiting, groups) => {
  expect(alikeUnits(registered, waiting)).toEqual(groups);
});

it.each([
  ['T-014', ['T014', 't 014'], "crankledger alias add T-014 T014 't 014'"],
  ["driver's", ['$(x)'], String.raw`crankledger alias add 'driver'\''s' '$(x)'`],
  ['-1', ['1'], 'crankledger alias add -- -1 1'],
])('%s is offered as a command that a shell takes as it stands', (unit, spellings, words) => {
  expect(acceptingCommand({ unit, spellings })).toBe(words);
});
