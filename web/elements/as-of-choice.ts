/** Which day the page shows as known then: the assessed days to step through, or any other day. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import { live } from 'lit/directives/live.js';
import type { AssessedDay } from '../../api/contract/assessments.ts';
import { date, fromDay } from '../format.ts';
import { shared } from '../styles/shared.ts';
import { earlierDay, laterDay } from '../unit/assessed-days.ts';

/** The day asked for, as the address has it; '' is the newest. */
export type AsOfEvent = CustomEvent<string>;

export class AsOfChoice extends LitElement {
  static override styles = [
    shared,
    css`
      div {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem 0.75rem;
        align-items: center;
        font-size: 0.8125rem;
      }

      :host,
      label {
        max-width: 100%;
      }

      form {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem;
        align-items: center;
      }
    `,
  ];
  static override properties = { days: { attribute: false }, asOf: {} };
  /** The newest first. */
  declare days: readonly AssessedDay[];
  /** The day on the page, assessed or not. */
  declare asOf: string;

  override render(): TemplateResult {
    const index = this.days.findIndex((day) => day.asOf === this.asOf);
    const newest = this.days[0];
    return html`<div role="group" aria-label="Day that the page shows">
      <label
        >As known on
        <select
          .value=${live(this.asOf)}
          @change=${(event: Event) => this.#ask((event.target as HTMLSelectElement).value)}
        >
          ${index === -1 ? html`<option value=${this.asOf} selected>${date(this.asOf)}, not assessed</option>` : ''}
          ${this.days.map((day, place) => this.#option(day, place))}
        </select></label
      >
      <button
        title="Key ←"
        ?disabled=${earlierDay(this.days, this.asOf) === null}
        @click=${() => this.#step(earlierDay)}
      >
        ← Earlier
      </button>
      <button title="Key →" ?disabled=${laterDay(this.days, this.asOf) === null} @click=${() => this.#step(laterDay)}>
        Later →
      </button>
      <form @submit=${(event: SubmitEvent) => this.#other(event)}>
        <label>another day <input type="date" name="on" required max=${newest?.asOfOn ?? ''} /></label>
        <button>Show</button>
      </form>
    </div>`;
  }

  #option({ asOf, asOfOn }: AssessedDay, place: number): TemplateResult {
    const newest = this.days[0]!;
    const instant = asOf === asOfOn ? '' : ` (${asOf})`;
    const words = place === 0 ? 'the newest' : `${fromDay(asOfOn, newest.asOfOn).replace(' ago', '')} earlier`;
    return html`<option value=${asOf} ?selected=${asOf === this.asOf}>${date(asOfOn)}${instant}, ${words}</option>`;
  }

  #step(to: typeof earlierDay): void {
    const day = to(this.days, this.asOf);
    if (day !== null) this.#ask(day);
  }

  #other(event: SubmitEvent): void {
    event.preventDefault();
    const on = new FormData(event.target as HTMLFormElement).get('on');
    if (typeof on === 'string' && on !== '') this.#ask(on);
  }

  #ask(asOf: string): void {
    const detail = asOf === this.days[0]?.asOf ? '' : asOf;
    this.dispatchEvent(new CustomEvent('as-of', { detail }) satisfies AsOfEvent);
  }
}

customElements.define('as-of-choice', AsOfChoice);
