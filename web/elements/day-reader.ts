/**
 * Reads a chart off day by day: the pointer, a finger or the arrow keys choose a day that has a value, a line stands
 * there and its values in words above. The chart itself is in the slot.
 */
import { LitElement, css, html, type TemplateResult } from 'lit';
import { plotWidth, type TimeDomain } from '../charts/chart-frame.ts';
import { nearestIndex } from '../charts/nearest-index.ts';
import { shared } from '../styles/shared.ts';

export class DayReader extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        position: relative;
      }

      .pointer {
        position: absolute;
        inset: 0;
        touch-action: pan-y;
        cursor: crosshair;
      }

      .line {
        position: absolute;
        inset-block: 0 1.4rem;
        inset-inline-start: var(--day-at, 0);
        border-inline-start: 1px solid var(--ink);
      }

      .said {
        position: absolute;
        inset-block-end: 100%;
        inset-inline-end: 0;
        background: var(--paper);
        font-size: 0.8125rem;
        padding-inline-start: 0.5rem;
      }

      @media print {
        .pointer,
        .said {
          display: none;
        }
      }
    `,
  ];
  static override properties = {
    times: { attribute: false },
    domain: { attribute: false },
    left: { type: Number },
    words: { attribute: false },
    label: {},
    at: { state: true },
  };
  /** Of the days with a value, the oldest first, in milliseconds. */
  declare times: readonly number[];
  declare domain: TimeDomain;
  declare left: number;
  declare words: (index: number) => string;
  declare label: string;
  /** The day that is read off, by index. */
  declare at: number | null;

  constructor() {
    super();
    this.at = null;
  }

  override willUpdate(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('times')) this.at = null;
  }

  override updated(): void {
    if (this.at === null) return;
    const { from, to } = this.domain;
    const share = (this.times[this.at]! - from) / (to - from);
    this.style.setProperty('--day-at', `${this.left + share * this.#plot()}px`);
  }

  override render(): TemplateResult {
    const { at, times } = this;
    const shown = at ?? times.length - 1;
    return html`<slot></slot>
      <div
        class="pointer"
        role="slider"
        tabindex="0"
        aria-label=${this.label}
        aria-valuemin="0"
        aria-valuemax=${times.length - 1}
        aria-valuenow=${shown}
        aria-valuetext=${this.words(shown)}
        @pointermove=${(event: PointerEvent) => this.#point(event)}
        @pointerdown=${(event: PointerEvent) => this.#point(event)}
        @pointerleave=${() => (this.at = null)}
        @blur=${() => (this.at = null)}
        @keydown=${(event: KeyboardEvent) => this.#key(event)}
      >
        <div class="line" ?hidden=${at === null}></div>
      </div>
      <div class="said" ?hidden=${at === null} aria-hidden="true">${at === null ? '' : this.words(at)}</div>`;
  }

  #plot(): number {
    return plotWidth({ width: this.clientWidth, left: this.left });
  }

  #point(event: PointerEvent): void {
    const x = event.clientX - this.getBoundingClientRect().left - this.left;
    const { from, to } = this.domain;
    this.at = nearestIndex(this.times, from + (x / this.#plot()) * (to - from));
  }

  #key(event: KeyboardEvent): void {
    const last = this.times.length - 1;
    const steps: Record<string, number> = {
      ArrowLeft: (this.at ?? last + 1) - 1,
      ArrowRight: (this.at ?? last - 1) + 1,
      PageUp: (this.at ?? last) - MANY_DAYS,
      PageDown: (this.at ?? last) + MANY_DAYS,
      Home: 0,
      End: last,
    };
    if (event.key === 'Escape') this.at = null;
    const next = steps[event.key];
    if (next === undefined) return;
    event.preventDefault();
    this.at = Math.min(last, Math.max(0, next));
  }
}

/** About a month of days with a value. */
const MANY_DAYS = 30;

customElements.define('day-reader', DayReader);
