import { html, type TemplateResult } from 'lit';

/** A table that may be wider than its page: it scrolls for itself, by the keyboard too. */
export type WideTable = { label: string; heads: readonly string[]; rows: readonly TemplateResult[] };

export function wideTable({ label, heads, rows }: WideTable): TemplateResult {
  return html`<div class="scroll" role="region" tabindex="0" aria-label=${label}>
    <table aria-label=${label}>
      <thead>
        <tr>
          ${heads.map((head) => html`<th scope="col">${head}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${rows}
      </tbody>
    </table>
  </div>`;
}
