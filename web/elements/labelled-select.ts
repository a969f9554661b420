/** A list to choose from with its label, whose choice always is the one that stands in the query. */
import { html, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';

export type Choice = readonly [value: string, word: string];

export function labelledSelect(
  label: string,
  { choices, current }: { choices: readonly Choice[]; current: string },
  chosen: (value: string) => void,
): TemplateResult {
  const changed = (event: Event) => chosen((event.target as HTMLSelectElement).value);
  return html`<label
    >${label}
    <select @change=${changed} .value=${live(current)}>
      ${choices.map(([value, word]) => html`<option value=${value} ?selected=${value === current}>${word}</option>`)}
    </select>
  </label>`;
}
