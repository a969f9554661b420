/** The frame around the pages: masthead, theme, and which page the address asks for. */
import type { nothing } from 'lit';
import { LitElement, css, html, type TemplateResult } from 'lit';
import type { ApiClient } from './api-client.ts';
import { failedNote, pageNoteStyles } from './elements/page-notes.ts';
import { historyNote, IMPORTS, readRoute, SETTINGS, TRACK_RECORD, type HistoryNote } from './routing.ts';
import { shared } from './styles/shared.ts';
import { THEMES, type Theme, type ThemeKeeper } from './theme.ts';
import './pages/imports-page.ts';
import './pages/priority-page.ts';
import './pages/settings-page.ts';
import './pages/track-record-page.ts';
import './pages/unit-page.ts';

export type GoEvent = CustomEvent<{ href: string; replace: boolean }>;

const THEME_WORDS: Record<Theme, string> = { system: 'as the system', light: 'light', dark: 'dark' };

export class CrankLedger extends LitElement {
  static override styles = [
    shared,
    pageNoteStyles,
    css`
      .masthead {
        display: flex;
        flex-wrap: wrap;
        gap: 0.25rem 1.5rem;
        align-items: baseline;
        justify-content: space-between;
        padding: 0.55rem clamp(0.75rem, 2vw, 2rem);
        border-block-end: 1px solid var(--rule-strong);
        background: var(--sheet);
      }

      .name {
        font: 700 1.05rem var(--head-face);
        color: var(--ink);
        text-decoration: none;
        letter-spacing: 0.01em;
      }

      nav {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.25rem;
        margin-inline-end: auto;
      }

      nav a {
        font-size: 0.875rem;
      }

      nav a[aria-current='page'] {
        color: var(--ink);
        font-weight: 600;
        text-decoration: none;
      }

      .theme {
        font-size: 0.75rem;
        color: var(--ink-soft);
      }

      .theme select {
        font-size: 0.75rem;
        min-height: 1.5rem;
        padding-block: 0;
      }

      /* On a phone the pages have a line of their own, below the name and the theme. */
      @media (max-width: 46rem) {
        nav {
          order: 1;
          flex-basis: 100%;
        }

        .theme span {
          position: absolute;
          clip-path: inset(50%);
        }
      }

      main {
        padding: 0 clamp(0.75rem, 2vw, 2rem);
        max-width: 150rem;
        margin-inline: auto;
      }

      .skip:not(:focus) {
        position: absolute;
        clip-path: inset(50%);
        width: 1px;
        height: 1px;
        overflow: hidden;
      }
    `,
  ];
  static override properties = {
    client: { attribute: false },
    themes: { attribute: false },
    todayOn: {},
    address: { state: true },
  };
  declare client: ApiClient;
  declare themes: ThemeKeeper;
  declare todayOn: string;
  declare address: { pathname: string; search: string };

  readonly #onPop = () => void this.#popped();

  constructor() {
    super();
    this.address = { pathname: window.location.pathname, search: window.location.search };
  }

  override connectedCallback(): void {
    super.connectedCallback();
    // The list is drawn after the browser would restore its place, so the place is kept here.
    window.history.scrollRestoration = 'manual';
    window.addEventListener('popstate', this.#onPop);
    this.addEventListener('click', (event) => this.#click(event));
    this.addEventListener('go', (event) => this.#go((event as GoEvent).detail));
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('popstate', this.#onPop);
  }

  override render(): TemplateResult {
    return html`<div class="masthead no-print">
        <a class="skip" href="#main" @click=${(event: Event) => this.#skip(event)}>Skip to the content</a>
        <a class="name" href="/">Crankledger</a>
        <nav aria-label="Pages">${this.#pageLinks()}</nav>
        <label class="theme"><span>Theme</span> ${this.#themeSelect()}</label>
      </div>
      <main id="main" tabindex="-1">${this.#page()}</main>`;
  }

  #pageLinks(): TemplateResult[] {
    const pages = [
      { href: '/', word: 'Priority' },
      { href: TRACK_RECORD, word: 'Track record' },
      { href: IMPORTS, word: 'Imports' },
      { href: SETTINGS, word: 'Settings' },
    ];
    const current = (href: string) => (href === this.address.pathname ? 'page' : 'false');
    return pages.map(({ href, word }) => html`<a href=${href} aria-current=${current(href)}>${word}</a>`);
  }

  #themeSelect(): TemplateResult {
    const current = this.themes.current();
    return html`<select
      @change=${(event: Event) => this.themes.set((event.target as HTMLSelectElement).value as Theme)}
    >
      ${THEMES.map((theme) => html`<option value=${theme} ?selected=${theme === current}>${THEME_WORDS[theme]}</option>`)}
    </select>`;
  }

  #page(): TemplateResult | typeof nothing {
    const route = readRoute(this.address.pathname, this.address.search);
    switch (route.page) {
      case 'priority':
        return html`<priority-page
          .client=${this.client}
          .search=${route.search}
          .todayOn=${this.todayOn}
        ></priority-page>`;
      case 'track-record':
        return html`<track-record-page .client=${this.client} .search=${route.search}></track-record-page>`;
      case 'imports':
        return html`<imports-page .client=${this.client} .search=${route.search}></imports-page>`;
      case 'settings':
        return html`<settings-page .client=${this.client}></settings-page>`;
      case 'unit':
        return html`<unit-page
          .client=${this.client}
          .unit=${route.unit}
          .position=${route.position}
          .asOf=${route.asOf}
          .listHref=${`/${historyNote(window.history.state).listSearch ?? ''}`}
          .todayOn=${this.todayOn}
        ></unit-page>`;
      case 'unknown':
        return failedNote({ title: 'There is no such page', detail: route.path, remedy: 'The list has all units.' });
    }
  }

  #skip(event: Event): void {
    event.preventDefault();
    this.renderRoot.querySelector<HTMLElement>('main')?.focus();
  }

  /** Links within the program change the address without loading it anew; all others are the browser's. */
  #click(event: MouseEvent): void {
    if (event.defaultPrevented || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const link = event.composedPath().find((node) => node instanceof HTMLAnchorElement);
    if (link === undefined || link.hasAttribute('download') || link.target !== '') return;
    const target = new URL(link.href);
    if (target.origin !== window.location.origin || target.pathname.startsWith('/api/') || target.hash !== '') return;
    event.preventDefault();
    this.#go({ href: `${target.pathname}${target.search}`, replace: false });
  }

  #go({ href, replace }: { href: string; replace: boolean }): void {
    const here = this.address;
    const target = new URL(href, window.location.origin);
    const samePage = target.pathname === here.pathname;
    if (!replace) this.#keepPlace();
    const note: HistoryNote = here.pathname === '/' && !samePage ? { listSearch: here.search } : {};
    if (replace) window.history.replaceState(window.history.state, '', href);
    else window.history.pushState(note, '', href);
    this.address = { pathname: target.pathname, search: target.search };
    if (!samePage) {
      window.scrollTo(0, 0);
      void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('main')?.focus());
    }
  }

  #keepPlace(): void {
    const note: HistoryNote = { ...historyNote(window.history.state), scrollY: window.scrollY };
    window.history.replaceState(note, '');
  }

  async #popped(): Promise<void> {
    this.address = { pathname: window.location.pathname, search: window.location.search };
    await this.updateComplete;
    const page = this.renderRoot.querySelector<LitElement>(
      'priority-page, track-record-page, imports-page, settings-page, unit-page',
    );
    await page?.updateComplete;
    // The table gives the page its height one update later.
    requestAnimationFrame(() => window.scrollTo(0, historyNote(window.history.state).scrollY ?? 0));
  }
}

customElements.define('crank-ledger', CrankLedger);
