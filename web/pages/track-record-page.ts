/** Did the forecasts come true? Scores beside what anyone could do without them, and each forecast beside what came. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { TrackRecord } from '../../api/contract/track-record.ts';
import { problemOf, type ApiClient } from '../api-client.ts';
import type { TrackQueryEvent } from '../elements/forecast-list.ts';
import { emptyNote, failedNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import { count, counted, date } from '../format.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { TRACK_RECORD } from '../routing.ts';
import { reportPage } from '../styles/report-page.ts';
import { shared } from '../styles/shared.ts';
import { pageQuery, readTrackQuery, writeTrackQuery, type TrackQuery } from '../track-record/track-query.ts';
import { COMPONENT_WORDS } from '../words.ts';
import { trackRecordPageStyles } from './track-record-page.styles.ts';
import '../elements/component-record.ts';
import '../elements/forecast-list.ts';
import '../elements/run-offer.ts';
import '../elements/track-filters.ts';

export class TrackRecordPage extends LitElement {
  static override styles = [shared, pageNoteStyles, reportPage, trackRecordPageStyles];
  static override properties = { client: { attribute: false }, search: {}, state: { state: true } };
  declare client: ApiClient;
  /** The address' query, as it stands. */
  declare search: string;
  declare state: PageState<TrackRecord>;

  /** Scores and months stay the same objects while only the list changes, so that no chart is drawn anew. */
  #scored: TrackRecord | null = null;
  /** Where the list on the screen begins: the address is ahead of it until the answer comes. */
  #listedFrom = 0;
  #turn = 0;

  constructor() {
    super();
    this.state = { kind: 'loading' };
  }

  override updated(changed: Map<PropertyKey, unknown>): void {
    if (changed.has('search')) void this.#refresh();
  }

  override render(): TemplateResult {
    return drawPage(this.state, {
      loading: () => loadingNote('the track record'),
      empty: (why, storeOption) => emptyNote(why, storeOption, this.#offer(storeOption)),
      failed: failedNote,
      ready: (record) => this.#ready(record),
    });
  }

  #offer(storeOption: string): TemplateResult {
    return html`<run-offer
      .client=${this.client}
      what="backtest"
      .storeOption=${storeOption}
      @run-done=${() => void this.#refresh()}
    ></run-offer>`;
  }

  #ready(record: TrackRecord): TemplateResult {
    const scored = this.#scored ?? record;
    const query = readTrackQuery(this.search);
    const shown = scored.scores.filter(({ component }) => query.component === '' || query.component === component);
    return html`${headSentence(record, shown, query)}
      <track-filters
        .query=${query}
        .depots=${record.depots}
        .classes=${record.classes}
        .origins=${record.origins}
        @track-query=${(event: TrackQueryEvent) => this.#ask(event.detail)}
      ></track-filters>
      ${shown.map(
        (scores) =>
          html`<section>
            <component-record .scores=${scores} .months=${scored.months}></component-record>
          </section>`,
      )}
      <section>
        <h2>Each forecast beside what happened</h2>
        <forecast-list
          .forecasts=${record.forecasts}
          .from=${this.#listedFrom}
          .inAll=${record.forecastsInAll}
          .horizonDays=${record.plan?.horizonDays ?? 0}
          .query=${query}
          @track-query=${(event: TrackQueryEvent) => this.#ask(event.detail)}
        ></forecast-list>
      </section>`;
  }

  #ask(query: TrackQuery): void {
    const detail = { href: `${TRACK_RECORD}${writeTrackQuery(query)}`, replace: false };
    this.dispatchEvent(new CustomEvent('go', { detail, bubbles: true, composed: true }));
  }

  /** An answer that a newer question has overtaken is dropped. */
  async #refresh(): Promise<void> {
    const turn = ++this.#turn;
    try {
      const query = readTrackQuery(this.search);
      const record = await this.client.trackRecord(pageQuery(query));
      if (turn !== this.#turn) return;
      this.#listedFrom = query.offset;
      this.#show(record);
    } catch (error) {
      if (turn === this.#turn) this.state = { kind: 'failed', problem: problemOf(error) };
    }
  }

  #show(record: TrackRecord): void {
    const same = JSON.stringify(this.#scored?.scores) === JSON.stringify(record.scores);
    if (!same) this.#scored = record;
    const { state, storeOption } = record;
    this.state = state === 'ready' ? { kind: 'ready', data: record } : { kind: 'empty', why: state, storeOption };
  }
}

type Scores = TrackRecord['scores'][number];

function sumOf(scores: readonly Scores[], figure: (of: Scores) => number): number {
  return scores.reduce((sum, each) => sum + figure(each), 0);
}

function headSentence(record: TrackRecord, scores: readonly Scores[], query: TrackQuery): TemplateResult {
  const { plan, store } = record;
  const failed = sumOf(scores, ({ failures }) => failures);
  const called = failed - sumOf(scores, ({ pulls }) => pulls.misses);
  const hits = sumOf(scores, ({ pulls }) => pulls.hits);
  const horizon = counted(plan?.horizonDays ?? 0, 'day', 'days');
  const fleet = `${partWords(query)}${store === 'sample' ? 'the invented sample fleet' : 'your fleet'}`;
  return html`<header>
    <h1>
      ${
        record.scope === 'too_large'
          ? html`So large a part is not scored in a page: choose fewer days, one depot or one class.`
          : failed === 0
            ? html`No part of ${fleet} failed within a forecast’s horizon: there is nothing to judge by.`
            : html`Of ${failureWords(failed, query)} in ${fleet}, ${count(called)} had been called beforehand,
              ${hits === 0 ? 'none' : count(hits)} of them within ${horizon}.`
      }
    </h1>
    ${howItCame(record, horizon)}
  </header>`;
}

function failureWords(failed: number, { component }: TrackQuery): string {
  const part = component === '' ? '' : `${COMPONENT_WORDS[component].toLowerCase()} `;
  return counted(failed, `${part}failure`, `${part}failures`);
}

/** `depot Oldmere, class city bus of `: what the filters leave of the fleet. */
function partWords({ depot, class: name }: TrackQuery): string {
  const words = [depot === '' ? '' : `depot ${depot}`, name === '' ? '' : `class ${name}`].filter(
    (word) => word !== '',
  );
  return words.length === 0 ? '' : `${words.join(', ')} of `;
}

function howItCame(record: TrackRecord, horizon: string): TemplateResult {
  const { origins, followedToOn, stale, gone, refused, scope, storeOption } = record;
  return html`<p class="soft">
      Forecasts of ${counted(origins.length, 'day', 'days')} from ${date(origins[0] ?? null)} to
      ${date(origins.at(-1) ?? null)}, each from what was known that day alone and held to ${horizon}. What happened is
      what the records say, known up to ${date(followedToOn)}.
      ${gone > 0 ? `Not scored: ${counted(gone, 'forecast', 'forecasts')} of parts that had failed already, entered later.` : nothing}
      ${refused > 0 ? `Nothing could be forecast ${counted(refused, 'time', 'times')}.` : nothing}
      ${scope === 'part' ? 'Everything below is of the part that the filters leave, with intervals from fewer draws.' : nothing}
    </p>
    ${
      stale
        ? html`<p class="stale">
            <strong>Data have changed since.</strong> Run <code>npm run -s cli -- backtest${storeOption}</code>, then
            reload.
          </p>`
        : nothing
    }`;
}

customElements.define('track-record-page', TrackRecordPage);
