/** A crank's voltage over an earlier one's; which two is asked of the page, which fetches them. */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { UnitView, Waveform } from '../../api/contract/unit.ts';
import { waveformChart } from '../charts/waveform-chart.ts';
import { instant } from '../format.ts';
import { shared } from '../styles/shared.ts';
import { PATTERN_WORDS, SUSPECT_WORDS } from '../words.ts';
import type { MakeSpec } from './vega-chart.ts';
import './vega-chart.ts';

export type KeptCrank = UnitView['waveforms'][number];
export type WaveformChoice = CustomEvent<{ newest: string; early: string }>;

export class WaveformFigure extends LitElement {
  static override styles = [
    shared,
    css`
      figure {
        margin: 0;
      }

      figcaption {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem 1.25rem;
        margin-block-end: 0.5rem;
      }

      /* As wide as its longest choice, and no wider than the figure. */
      label {
        display: grid;
        max-width: 100%;
        gap: 0.1rem;
        font-size: 0.75rem;
        color: var(--ink-soft);
        min-width: 0;
        grid-template-columns: minmax(0, max-content);
      }

      select {
        max-width: 100%;
        font-size: 0.8125rem;
      }

      .line {
        display: inline-block;
        width: 1.6rem;
        border-block-start: 2.5px solid var(--ink);
        vertical-align: middle;
        margin-inline-end: 0.35rem;
      }

      .line.early {
        border-block-start: 1.5px solid var(--ink-soft);
      }

      vega-chart {
        --chart-height: 19rem;
      }
    `,
  ];
  static override properties = {
    kept: { attribute: false },
    newest: { attribute: false },
    early: { attribute: false },
    left: { type: Number },
  };
  /** Cranks whose waveform is kept, oldest first. */
  declare kept: readonly KeptCrank[];
  declare newest: Waveform;
  declare early: Waveform | null;
  declare left: number;

  #make: MakeSpec = (width) => waveformChart(this.newest, this.early, { width, left: this.left });

  override willUpdate(): void {
    const { newest, early, left } = this;
    this.#make = (width) => waveformChart(newest, early, { width, left });
  }

  override render(): TemplateResult {
    const { newest, early } = this;
    const earlyId = early?.id ?? '';
    const label =
      early === null
        ? `Voltage over time of the crank of ${instant(newest.at)}`
        : `Voltage over time of the crank of ${instant(newest.at)} over that of ${instant(early.at)}`;
    return html`<figure>
      <figcaption>
        ${this.#select('Crank', 'newest', newest.id, (id) => this.#choose(id, earlyId))}
        ${this.#select('over', 'early', earlyId, (id) => this.#choose(newest.id, id))}
        <span class="soft">volts at the bank’s terminals</span>
      </figcaption>
      <vega-chart .make=${this.#make} .label=${label}></vega-chart>
    </figure>`;
  }

  #select(label: string, line: string, current: string, choose: (id: string) => void): TemplateResult {
    return html`<label
      ><span><span class="line ${line}" aria-hidden="true"></span>${label}</span>
      <select @change=${(event: Event) => choose((event.target as HTMLSelectElement).value)}>
        ${this.kept.map(
          (crank) =>
            html`<option value=${crank.id} ?selected=${crank.id === current}>
              ${instant(crank.at)}, ${PATTERN_WORDS[crank.pattern]}${pointsTo(crank.suspect)}
            </option>`,
        )}
      </select>
    </label>`;
  }

  #choose(newest: string, early: string): void {
    this.dispatchEvent(new CustomEvent('waveform-choice', { detail: { newest, early } }) satisfies WaveformChoice);
  }
}

function pointsTo(suspect: KeptCrank['suspect']): string {
  return suspect === null ? '' : `, points to ${SUSPECT_WORDS[suspect]}`;
}

customElements.define('waveform-figure', WaveformFigure);
