import { describe, expect, it } from 'vitest';
import { ACTIONS, COMPONENTS, EVENTS, INDICATORS, LIFE_ENDS, PATTERNS } from '../../etl/model/words.ts';
import {
  ACTION_MEANINGS,
  ACTION_WORDS,
  BASIS_MEANINGS,
  COMPONENT_WORDS,
  EVENT_WORDS,
  INDICATOR_WORDS,
  LIFE_END_WORDS,
  PATTERN_WORDS,
  testName,
} from '../../web/words.ts';

describe('words of the closed vocabularies', () => {
  const lists: [string, readonly string[], Record<string, unknown>][] = [
    ['component', [...COMPONENTS, 'none'], COMPONENT_WORDS],
    ['action', ACTIONS, ACTION_WORDS],
    ['meaning of an action', ACTIONS, ACTION_MEANINGS],
    ['event', EVENTS, EVENT_WORDS],
    ['end of a life', LIFE_ENDS, LIFE_END_WORDS],
    ['pattern', PATTERNS, PATTERN_WORDS],
    ['indicator', INDICATORS, INDICATOR_WORDS],
  ];
  it.each(lists)('every %s has its own word', (_, vocabulary, words) => {
    expect(Object.keys(words).toSorted()).toEqual([...vocabulary].toSorted());
    const texts = Object.values(words).map((word) => JSON.stringify(word));
    expect(new Set(texts).size).toBe(texts.length);
    expect(texts.every((text) => text.length > 3)).toBe(true);
  });

  it('what an outlook can rest on is explained', () => {
    for (const basis of ['prior', 'lives', 'condition', 'beyond_horizon', 'none'])
      expect(BASIS_MEANINGS[basis]).toMatch(/\w+ \w+/);
  });
});

it('a bench test is named in words', () => {
  expect(testName('open_circuit_voltage')).toBe('Open circuit voltage');
});
