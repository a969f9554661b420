/** Offers work that takes longer than a page may wait: the command for a terminal, and a button where the server may. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { RunRequest, Runs } from '../../api/contract/run.ts';
import { problemOf, type ApiClient } from '../api-client.ts';
import { followRun } from '../follow-run.ts';
import { runWords } from '../run-words.ts';
import { shared } from '../styles/shared.ts';

export class RunOffer extends LitElement {
  static override styles = [
    shared,
    css`
      :host {
        display: grid;
        gap: 0.5rem;
        justify-items: start;
      }

      code {
        overflow-wrap: anywhere;
      }
    `,
  ];
  static override properties = {
    client: { attribute: false },
    what: {},
    asOf: {},
    storeOption: {},
    runs: { state: true },
    refusal: { state: true },
  };
  declare client: ApiClient;
  declare what: RunRequest['what'];
  /** The day to assess, '' for the newest that data reach; of no concern to a backtest. */
  declare asOf: string;
  declare storeOption: string;
  declare runs: Runs | null;
  declare refusal: string;

  #gone = new AbortController();
  /** Something runs that this element has seen running, or started itself: short work ends between two looks. */
  #awaited = false;

  constructor() {
    super();
    this.asOf = '';
    this.runs = null;
    this.refusal = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#gone = new AbortController();
    void this.#follow();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#gone.abort();
  }

  override render(): TemplateResult {
    const { run, canRun } = this.runs ?? { run: null, canRun: false };
    const running = run?.state === 'running';
    return html`<p><code>npm run -s cli -- ${this.#command()}</code></p>
      ${
        canRun
          ? html`<button class="main no-print" ?disabled=${running} @click=${() => void this.#start()}>
              Work it out now
            </button>`
          : nothing
      }
      <p role="status">${this.refusal === '' ? runWords(run) : this.refusal}</p>`;
  }

  #command(): string {
    const day = this.what === 'assess' && this.asOf !== '' ? ` --as-of ${this.asOf}` : '';
    return `${this.what}${day}${this.storeOption}`;
  }

  async #start(): Promise<void> {
    this.refusal = '';
    try {
      await this.client.startRun({ what: this.what, ...(this.asOf === '' ? {} : { asOf: this.asOf }) });
      this.#awaited = true;
    } catch (error) {
      const { detail, remedy } = problemOf(error);
      this.refusal = `${detail}. ${remedy}`;
    }
    await this.#follow();
  }

  /** Looks again while something runs; tells once it is done. */
  async #follow(): Promise<void> {
    const onLook = (runs: Runs) => {
      this.runs = runs;
      this.#awaited ||= runs.run?.state === 'running';
    };
    // Where the server does not answer, the page itself says so.
    const run = await followRun(this.client, { stop: this.#gone.signal, onLook }).catch(() => null);
    if (this.#awaited && run?.state === 'done') this.dispatchEvent(new CustomEvent('run-done'));
    this.#awaited = false;
  }
}

customElements.define('run-offer', RunOffer);
