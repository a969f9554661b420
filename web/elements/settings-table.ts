/** Settings that are single values: a field each, with its unit, its default and where that comes from. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import { shared } from '../styles/shared.ts';

export type SettingRow = {
  setting: string;
  name: string;
  /** Unit of measure behind the field; '' for none. */
  unit: string;
  /** As it is typed. */
  text: string;
  /** The default as it would be typed. */
  defaultText: string;
  source: string;
  /** What is wrong with `text`; '' where nothing is. */
  refusal: string;
  /** Values to choose from while typing. */
  choices: readonly string[];
};
export type TypedEvent = CustomEvent<{ setting: string; text: string }>;

export class SettingsTable extends LitElement {
  static override styles = [
    shared,
    css`
      table {
        border-collapse: collapse;
        font-size: 0.875rem;
        width: 100%;
      }

      th,
      td {
        text-align: start;
        font-weight: normal;
        vertical-align: baseline;
        padding: 0.3rem 1rem 0.3rem 0;
        border-block-end: 1px solid var(--rule);
      }

      thead th {
        color: var(--ink-soft);
        font-size: 0.75rem;
        border-block-end-color: var(--rule-strong);
      }

      input {
        width: 8rem;
        text-align: end;
        font-variant-numeric: tabular-nums;
      }

      input.words {
        width: 14rem;
        text-align: start;
      }

      input[aria-invalid='true'] {
        border-width: 2px;
        border-color: var(--ink);
      }

      .refusal {
        font-weight: 600;
      }

      @media (max-width: 48rem) {
        table,
        tbody {
          display: block;
        }

        thead {
          display: none;
        }

        tr {
          display: grid;
          grid-template-columns: minmax(0, 1fr);
          border-block-end: 1px solid var(--rule);
          padding-block: 0.4rem;
        }

        th,
        td {
          border: 0;
          padding-block: 0.1rem;
        }
      }

      @media print {
        input {
          border: 0;
          background: none;
        }
      }
    `,
  ];
  static override properties = { rows: { attribute: false }, label: {} };
  declare rows: readonly SettingRow[];
  declare label: string;

  override render(): TemplateResult {
    return html`<table aria-label=${this.label}>
      <thead>
        <tr>
          <th scope="col">Setting</th>
          <th scope="col">Value</th>
          <th scope="col">Standing</th>
          <th scope="col">Where it comes from</th>
        </tr>
      </thead>
      <tbody>
        ${this.rows.map((row) => this.#row(row))}
      </tbody>
    </table>`;
  }

  #row(row: SettingRow): TemplateResult {
    const { setting, name, unit, text, defaultText, source, refusal, choices } = row;
    const list = choices.length > 0 ? `${setting}-choices` : undefined;
    return html`<tr>
      <th scope="row"><label for=${setting}>${name}</label></th>
      <td>
        <input
          id=${setting}
          class=${list === undefined ? '' : 'words'}
          inputmode=${list === undefined ? 'decimal' : 'text'}
          list=${list ?? nothing}
          autocomplete="off"
          .value=${live(text)}
          aria-invalid=${refusal === '' ? 'false' : 'true'}
          aria-describedby=${refusal === '' ? nothing : `${setting}-refusal`}
          @input=${(event: Event) => this.#tell(setting, (event.target as HTMLInputElement).value)}
        />
        ${unit}
        ${list === undefined ? nothing : html`<datalist id=${list}>${choices.map((each) => html`<option value=${each}></option>`)}</datalist>`}
        ${refusal === '' ? nothing : html`<div class="refusal" id="${setting}-refusal">${refusal}</div>`}
      </td>
      <td>
        ${
          text === defaultText
            ? html`<span class="soft">default</span>`
            : html`set by you
                <button class="quiet no-print" @click=${() => this.#tell(setting, defaultText)}>
                  Back to ${defaultText}<span class="unseen"> for ${name}</span>
                </button>`
        }
      </td>
      <td class="soft">${source}</td>
    </tr>`;
  }

  #tell(setting: string, text: string): void {
    this.dispatchEvent(new CustomEvent('typed', { detail: { setting, text } }) satisfies TypedEvent);
  }
}

customElements.define('settings-table', SettingsTable);
