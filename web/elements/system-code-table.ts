/** The fleet's own repair codes: what their records speak of, and which component a person says each one means. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { SystemCode } from '../../api/contract/system-codes.ts';
import { count } from '../format.ts';
import { plainTable } from '../styles/plain-table.ts';
import { shared } from '../styles/shared.ts';
import { COMPONENT_WORDS } from '../words.ts';

export type CodeMeaning = SystemCode['component'];
export type CodeEvent = CustomEvent<{ code: string; component: CodeMeaning }>;

const MEANINGS = Object.keys(COMPONENT_WORDS) as (keyof typeof COMPONENT_WORDS)[];

export class SystemCodeTable extends LitElement {
  static override styles = [
    shared,
    plainTable,
    css`
      .number {
        text-align: end;
      }

      td.example {
        white-space: normal;
        min-width: 11rem;
        overflow-wrap: anywhere;
      }

      td.words {
        white-space: normal;
        min-width: 8rem;
      }

      select {
        max-width: 10rem;
      }
    `,
  ];
  static override properties = { codes: { attribute: false } };
  /** With what the page has them mean, saved or not. */
  declare codes: readonly SystemCode[];

  override render(): TemplateResult {
    const label = 'The fleet’s own repair codes, the most used first';
    return html`<div class="scroll" role="region" tabindex="0" aria-label=${label}>
      <table>
        <thead>
          <tr>
            <th scope="col">Code</th>
            <th scope="col" class="number">Work orders</th>
            <th scope="col">Means</th>
            <th scope="col">Their words speak most of</th>
            <th scope="col">One of them</th>
          </tr>
        </thead>
        <tbody>
          ${this.codes.map((code) => this.#row(code))}
        </tbody>
      </table>
    </div>`;
  }

  #row({ code, orders, component, read, example }: SystemCode): TemplateResult {
    return html`<tr>
      <th scope="row">${code}</th>
      <td class="number">${count(orders)}</td>
      <td>
        <select
          aria-label="Meaning of code ${code}"
          .value=${live(component ?? '')}
          @change=${(event: Event) => this.#tell(code, (event.target as HTMLSelectElement).value)}
        >
          <option value="" ?selected=${component === null}>not said</option>
          ${MEANINGS.map((word) => html`<option value=${word} ?selected=${word === component}>${meaningWords(word)}</option>`)}
        </select>
      </td>
      <td class="words">
        ${
          read === null
            ? html`<span class="soft">no part</span>`
            : html`${COMPONENT_WORDS[read.component].toLowerCase()}
                <span class="soft">in ${count(read.orders)} of ${count(read.ofRead)}</span> ${
                  component === null && isClear(read)
                    ? html`<button class="quiet no-print" @click=${() => this.#tell(code, read.component)}>
                        Take it<span class="unseen"> for code ${code}</span>
                      </button>`
                    : nothing
                }`
        }
      </td>
      <td class="example soft">${example}</td>
    </tr>`;
  }

  #tell(code: string, word: string): void {
    const component = MEANINGS.find((each) => each === word) ?? null;
    this.dispatchEvent(new CustomEvent('code-said', { detail: { code, component } }) satisfies CodeEvent);
  }
}

/** So many of a code's records have to speak of one part before it is proposed. Convention of this program. */
const CLEAR_SHARE = 0.8;

function isClear({ orders, ofRead }: NonNullable<SystemCode['read']>): boolean {
  return orders >= CLEAR_SHARE * ofRead;
}

function meaningWords(word: keyof typeof COMPONENT_WORDS): string {
  return word === 'none' ? 'Nothing to do with starting' : COMPONENT_WORDS[word];
}

customElements.define('system-code-table', SystemCodeTable);
