/** What the words of the list mean, for who opens it the first time. Folded: who knows them is not held up. */
import { html, type TemplateResult } from 'lit';
import { ACTION_MEANINGS, ACTION_WORDS, INDICATOR_WORDS, type Action } from '../words.ts';

const COLUMNS: readonly (readonly [word: string, meaning: string])[] = [
  [
    'Failure window',
    'Three days by which one, five and nine in ten such parts will have failed, given that this one works on the as-of day.',
  ],
  ['Next visit', 'A booked job, a planned shop visit or the next maintenance, whichever comes first; else assumed.'],
  [
    'Cost of waiting',
    'Chance of failing before the next visit × what a failure costs more than a planned job, less the service life that replacing it early would throw away.',
  ],
];

export function wordList(): TemplateResult {
  const actions = (Object.keys(ACTION_WORDS) as Action[]).map(
    (action) => [ACTION_WORDS[action], ACTION_MEANINGS[action]] as const,
  );
  const indicators = Object.values(INDICATOR_WORDS).map(({ name, meaning }) => [name, meaning] as const);
  return html`<details class="words">
    <summary>What the words mean</summary>
    <dl>
      ${[...COLUMNS, ...actions, ...indicators].map(
        ([word, meaning]) =>
          html`<dt>${word}</dt>
            <dd>${meaning}</dd>`,
      )}
    </dl>
  </details>`;
}
