/**
 * A chart: a specification made for the width at hand, drawn once it comes near the view or the page is idle. The
 * chart library arrives with the first one.
 */
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { Spec } from '../charts/chart-frame.ts';
import type { DrawnChart } from '../charts/draw-chart.ts';
import { shared } from '../styles/shared.ts';

export type MakeSpec = (width: number) => Spec;

export class VegaChart extends LitElement {
  static override styles = [
    shared,
    css`
      .plot {
        min-height: var(--chart-height, 8rem);
        overflow: hidden;
      }

      svg {
        max-width: 100%;
        height: auto;
      }

      .failed {
        color: var(--ink-soft);
      }
    `,
  ];
  static override properties = { make: { attribute: false }, label: {}, failure: { state: true } };
  declare make: MakeSpec;
  declare label: string;
  declare failure: string;

  #drawn: DrawnChart | null = null;
  #drawnWidth = 0;
  #near = false;
  #turn = 0;
  readonly #sight = new IntersectionObserver(
    (entries) => {
      if (entries.some((entry) => entry.isIntersecting)) this.#comeNear();
    },
    { rootMargin: '400px' },
  );
  readonly #size = new ResizeObserver(() => {
    if (this.#near && Math.abs(this.clientWidth - this.#drawnWidth) > 1) void this.#draw();
  });

  constructor() {
    super();
    this.failure = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#sight.observe(this);
    this.#size.observe(this);
    // A print shows all charts, also those that nobody has scrolled to.
    window.requestIdleCallback?.(() => this.#comeNear(), { timeout: 3000 });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#sight.disconnect();
    this.#size.disconnect();
    this.#turn++;
    this.#drawn?.finalize();
    this.#drawn = null;
    this.#near = false;
  }

  override updated(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('make') && this.#near) void this.#draw();
  }

  override render(): TemplateResult {
    return html`<div class="plot" role="img" aria-label=${this.label}><div></div></div>
      ${this.failure === '' ? '' : html`<p class="failed">The chart could not be drawn: ${this.failure}</p>`}`;
  }

  #comeNear(): void {
    if (this.#near || !this.isConnected) return;
    this.#near = true;
    void this.#draw();
  }

  async #draw(): Promise<void> {
    const turn = ++this.#turn;
    await this.updateComplete;
    // The chart library takes role and label off the element that it draws in: not off the one around it.
    const plot = this.renderRoot.querySelector<HTMLElement>('.plot > div');
    const width = this.clientWidth;
    if (plot === null || width === 0) return;
    try {
      const { drawChart } = await import('../charts/draw-chart.ts');
      // A newer width or newer rows have overtaken this drawing.
      if (turn !== this.#turn || !this.isConnected) return;
      this.#drawn?.finalize();
      this.#drawn = null;
      this.#drawnWidth = width;
      plot.replaceChildren();
      const drawn = await drawChart(this.make(width), plot);
      if (turn === this.#turn) this.#drawn = drawn;
      else drawn.finalize();
      this.failure = '';
    } catch (error) {
      this.failure = error instanceof Error ? error.message : String(error);
    }
  }
}

customElements.define('vega-chart', VegaChart);
