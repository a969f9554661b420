/** Two spellings that may name one unit (`T-014`, `T014`): offered as one, never merged unasked; what is said can be undone. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { AliasRequest, UnitAliases } from '../../api/contract/unit-aliases.ts';
import { problemOf, problemWords, type ApiClient } from '../api-client.ts';
import { counted } from '../format.ts';
import { unitHref } from '../routing.ts';
import { shared } from '../styles/shared.ts';

/** More offers than these wait behind a line. */
const MOST_SHOWN = 2;

export class SameUnitOffer extends LitElement {
  static override styles = [
    shared,
    css`
      div {
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 0.75rem;
        align-items: baseline;
        margin-block-end: 0.75rem;
      }

      summary {
        cursor: pointer;
        margin-block-end: 0.5rem;
      }
    `,
  ];
  static override properties = {
    client: { attribute: false },
    unit: {},
    known: { state: true },
    said: { state: true },
  };
  declare client: ApiClient;
  /** The unit whose spellings are shown; '' for all of the fleet. */
  declare unit: string;
  declare known: UnitAliases | null;
  /** What became of the last answer, said aloud. */
  declare said: string;

  constructor() {
    super();
    this.unit = '';
    this.known = null;
    this.said = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#load();
  }

  override render(): TemplateResult | typeof nothing {
    if (this.known === null) return nothing;
    const { offers, aliases, apart } = this.known;
    const own = offers.filter(({ unit, spellings }) => this.#concerns([unit, ...spellings]));
    const standing = aliases.filter(({ spelling, unit, goesBy }) => this.#concerns([spelling, unit, goesBy]));
    return html`${this.#offers(own)}
      ${
        this.unit === ''
          ? nothing
          : standing.map(
              ({ spelling, goesBy }) =>
                html`<div class="no-print">
                  <span>${spelling} counts as ${goesBy}, as you said.</span>
                  <button class="quiet" @click=${() => void this.#takeBack(spelling)}>Take apart again</button>
                </div>`,
            )
      }
      ${
        this.unit === ''
          ? nothing
          : apart.filter(({ unit, other }) => this.#concerns([unit, other])).map((pair) => this.#apart(pair))
      }
      <p role="status" class="soft">${this.said}</p>`;
  }

  /** On the list many of them would push it off the screen. */
  #offers(own: readonly AliasRequest[]): TemplateResult | TemplateResult[] {
    const shown = own.map((offer) => this.#offer(offer));
    if (shown.length <= MOST_SHOWN) return shown;
    return html`<details class="no-print">
      <summary>${counted(own.length, 'unit', 'units')} may stand under two spellings</summary>
      ${shown}
    </details>`;
  }

  #apart({ unit, other }: UnitAliases['apart'][number]): TemplateResult {
    return html`<div class="no-print">
      <span>${unit === this.unit ? other : unit} is another unit, as you said.</span>
      <button class="quiet" @click=${() => void this.#askAgain(unit, other)}>Ask again</button>
    </div>`;
  }

  #concerns(names: readonly string[]): boolean {
    return this.unit === '' || names.includes(this.unit);
  }

  #offer(offer: AliasRequest): TemplateResult {
    const names = [offer.unit, ...offer.spellings];
    const links = names.map((name, index) => {
      const comma = index === 0 ? '' : index === names.length - 1 ? ' and ' : ', ';
      return html`${comma}${name === this.unit ? html`<strong>${name}</strong>` : html`<a href=${unitHref(name, '')}>${name}</a>`}`;
    });
    return html`<div class="no-print">
      <span
        >${links} may be one unit: they differ only in case, blanks and marks. Until you say so they are kept
        apart.</span
      >
      <button @click=${() => void this.#accept(offer)}>Count them as one, ${offer.unit}</button>
      <button class="quiet" @click=${() => void this.#keepApart(offer)}>
        ${names.length === 2 ? 'They are two units' : `They are ${names.length} units`}
      </button>
    </div>`;
  }

  async #load(): Promise<void> {
    try {
      this.known = await this.client.unitAliases();
    } catch (error) {
      this.said = problemOf(error).title;
    }
  }

  #accept({ unit, spellings }: AliasRequest): Promise<void> {
    return this.#carryOut(`${spellings.join(', ')} counts as ${unit}. Run assess for new forecasts.`, () =>
      this.client.acceptAliases({ unit, spellings }),
    );
  }

  #keepApart({ unit, spellings }: AliasRequest): Promise<void> {
    const names = [unit, ...spellings].join(', ');
    return this.#carryOut(`${names} stay apart. Their pages take it back.`, () =>
      this.client.keepApart({ unit, spellings }),
    );
  }

  #askAgain(unit: string, other: string): Promise<void> {
    return this.#carryOut(`${unit} and ${other} are offered again.`, () => this.client.askAgain(unit, other));
  }

  #takeBack(spelling: string): Promise<void> {
    return this.#carryOut(`${spelling} is a unit of its own again. Run assess for new forecasts.`, () =>
      this.client.takeBackAlias(spelling),
    );
  }

  async #carryOut(done: string, act: () => Promise<void>): Promise<void> {
    try {
      await act();
      this.said = done;
      await this.#load();
      this.dispatchEvent(new CustomEvent('aliases-changed'));
    } catch (error) {
      this.said = problemWords(error);
    }
  }
}

customElements.define('same-unit-offer', SameUnitOffer);
