/** Every figure that the ranking takes for granted, with where it comes from. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { Ranking } from '../../api/contract/ranking.ts';
import { shared } from '../styles/shared.ts';

export class AssumptionList extends LitElement {
  static override styles = [
    shared,
    css`
      summary {
        cursor: pointer;
        font-weight: 600;
      }

      table {
        border-collapse: collapse;
        margin-block-start: 0.5rem;
        font-size: 0.8125rem;
        max-width: 60rem;
      }

      th,
      td {
        text-align: start;
        vertical-align: top;
        padding: 0.25rem 1.5rem 0.25rem 0;
        border-block-end: 1px solid var(--rule);
        font-weight: 400;
      }

      thead th {
        color: var(--ink-soft);
        font-size: 0.75rem;
      }

      td:nth-child(2) {
        text-align: end;
        white-space: nowrap;
      }
    `,
  ];
  static override properties = { assumptions: { attribute: false } };
  declare assumptions: Ranking['assumptions'];

  override render(): TemplateResult {
    const set = this.assumptions.filter((each) => each.from === 'set').length;
    const standing = set === 0 ? 'all of them defaults' : `${set} of them set by you`;
    return html`<details>
      <summary>What the costs rest on: ${this.assumptions.length} assumptions, ${standing}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">Assumption</th>
            <th scope="col">Value</th>
            <th scope="col">Standing</th>
            <th scope="col">Source</th>
          </tr>
        </thead>
        <tbody>
          ${this.assumptions.map(
            (each) =>
              html`<tr>
                <th scope="row">${each.name}</th>
                <td>${each.value}</td>
                <td>${each.from === 'set' ? 'set by you' : 'default'}</td>
                <td class="soft">${each.source}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </details>`;
  }
}

customElements.define('assumption-list', AssumptionList);
