/** The list of keys, opened by `?`. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import { shared } from '../styles/shared.ts';

const KEYS: readonly (readonly [keys: readonly string[], does: string])[] = [
  [['j', '↓'], 'next row'],
  [['k', '↑'], 'row before'],
  [['Home', 'End'], 'first and last row'],
  [['Enter'], 'open the unit'],
  [['b'], 'book the job'],
  [['d'], 'defer it with a reason'],
  [['u'], 'undo a booking or deferral'],
  [['/'], 'search'],
  [['Esc'], 'leave the search, close a dialog'],
  [['?'], 'this list'],
];

export class KeyList extends LitElement {
  static override styles = [
    shared,
    css`
      dl {
        display: grid;
        grid-template-columns: max-content 1fr;
        gap: 0.4rem 1.25rem;
        margin: 1rem 0;
      }

      dd {
        margin: 0;
      }

      kbd + kbd {
        margin-inline-start: 0.35rem;
      }
    `,
  ];

  open(): void {
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">
      <h2 id="title">Keys</h2>
      <dl>
        ${KEYS.map(
          ([keys, does]) =>
            html`<dt>${keys.map((key) => html`<kbd>${key}</kbd>`)}</dt>
              <dd>${does}</dd>`,
        )}
      </dl>
      <form method="dialog"><button>Close</button></form>
    </dialog>`;
  }
}

customElements.define('key-list', KeyList);
