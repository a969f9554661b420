/** What is to be done about one component, when it will probably fail, and what says so. */
import { LitElement, css, html, nothing, type TemplateResult } from 'lit';
import type { RankingRow } from '../../api/contract/ranking.ts';
import type { EvidenceRung, PartSince, UnitOutlook } from '../../api/contract/unit.ts';
import { isForeseen } from '../foreseen.ts';
import { age, date, fromDay, money, probability, unbroken } from '../format.ts';
import { actDay } from '../priority/act-day.ts';
import { shared } from '../styles/shared.ts';
import { hasEnded } from '../unit/engine-view.ts';
import { restsOn } from '../unit/rung-words.ts';
import { sinceWords } from '../unit/since-words.ts';
import { ACTION_MEANINGS, ACTION_WORDS, COMPONENT_WORDS, VISIT_WORDS } from '../words.ts';
import type { RowRequest } from './ranking-cells.ts';
import type { RowEvent } from './ranking-table.ts';
import { windowAxisHead, windowBar, windowBarStyles, type WindowMarks } from './window-bar.ts';

export class ComponentVerdict extends LitElement {
  static override styles = [
    shared,
    windowBarStyles,
    css`
      section {
        border-block-start: 3px double var(--rule-strong);
        padding-block: 0.75rem;
        display: grid;
        gap: 0.5rem;
      }

      h2 {
        font-size: 1.1rem;
        display: flex;
        flex-wrap: wrap;
        gap: 0 0.75rem;
        align-items: baseline;
      }

      .act {
        font: 400 0.875rem var(--text-face);
      }

      .act strong {
        font-weight: 700;
      }

      dl {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(6.5rem, 1fr));
        gap: 0.25rem 1rem;
        margin: 0;
        border-block: 1px solid var(--rule);
        padding-block: 0.4rem;
      }

      dt {
        font-size: 0.75rem;
        color: var(--ink-soft);
      }

      dd {
        margin: 0;
        font-weight: 600;
      }

      ul {
        margin: 0;
        padding-inline-start: 1.1rem;
      }

      .basis {
        font-size: 0.8125rem;
      }

      @media print {
        .basis {
          font-size: inherit;
        }
      }

      .since {
        border-inline-start: 3px solid var(--ink);
        padding-inline-start: 0.75rem;
      }
    `,
  ];
  static override properties = {
    outlook: { attribute: false },
    row: { attribute: false },
    rung: { attribute: false },
    since: { attribute: false },
    marks: { attribute: false },
    currency: {},
    decidable: { type: Boolean },
  };
  declare outlook: UnitOutlook;
  declare row: RankingRow | null;
  declare rung: EvidenceRung | undefined;
  /** What became of the part, where the page shows an earlier day. */
  declare since: PartSince | null;
  declare marks: WindowMarks;
  declare currency: string;
  /** The day shown is the newest: a decision is about what is known now. */
  declare decidable: boolean;

  constructor() {
    super();
    this.decidable = false;
    this.since = null;
  }

  override render(): TemplateResult {
    const { outlook, row } = this;
    return html`<section>
      <h2>
        <span class="component ${outlook.component}">${COMPONENT_WORDS[outlook.component]}</span>
        ${row === null ? nothing : actionWords(row, this.since === null ? this.marks.todayOn : this.marks.asOfOn)}
      </h2>
      <p>
        ${windowSentence(outlook, this.marks.todayOn)}
        ${row === null || !isForeseen(outlook) ? nothing : ACTION_MEANINGS[row.action]}
      </p>
      ${isForeseen(outlook) ? html`${this.#window()} ${this.#figures()}` : nothing}
      ${
        outlook.evidence.length === 0
          ? nothing
          : html`<ul>
              ${outlook.evidence.map((reason) => html`<li>${unbroken(reason)}</li>`)}
            </ul>`
      }
      <p class="basis soft">${restsOn(outlook, this.rung)}</p>
      ${row === null ? nothing : html`${decisionSentence(row)} ${this.#decide(row)}`}
      ${this.since === null ? nothing : html`<p class="since"><strong>What happened since:</strong> ${sinceWords(this.since)}</p>`}
    </section>`;
  }

  #window(): TemplateResult | typeof nothing {
    const { row } = this;
    if (row === null) return nothing;
    return html`<div>${windowAxisHead(this.marks)}${windowBar(row, this.#marks())}</div>`;
  }

  #marks(): WindowMarks {
    const { since } = this;
    return since !== null && hasEnded(since) ? { ...this.marks, endedOn: since.on } : this.marks;
  }

  #decide(row: RankingRow): TemplateResult | typeof nothing {
    if (!this.decidable) return nothing;
    const button = (request: RowRequest, word: string) => {
      const detail = { row, request };
      const ask = () => this.dispatchEvent(new CustomEvent('row-request', { detail }) satisfies RowEvent);
      return html`<button aria-label=${`${word} ${row.component}`} @click=${ask}>${word}</button>`;
    };
    const decided = row.booking !== null || row.deferral !== null;
    return html`<p class="no-print">
      ${decided ? button('undo', 'Undo') : html`${button('book', 'Book')} ${button('defer', 'Defer')}`}
    </p>`;
  }

  #figures(): TemplateResult {
    const { outlook, row } = this;
    const figure = (name: string, value: string) =>
      html`<div>
        <dt>${name}</dt>
        <dd>${value}</dd>
      </div>`;
    return html`<dl>
      ${figure('Fails within 30 days', probability(outlook.pFail30d))}
      ${figure('within 60 days', probability(outlook.pFail60d))}
      ${figure('within 90 days', probability(outlook.pFail90d))}
      ${
        row === null
          ? nothing
          : html`${figure(`before ${date(row.nextVisitOn)}`, probability(row.pFailToNextVisit))}
            ${figure('Cost of waiting', money(row.costOfWaitingMinor, this.currency))}
            ${figure('Cost of doing it now', money(row.costNowMinor, this.currency))}`
      }
      ${figure('In service for', outlook.ageDays === null ? 'not known' : age(outlook.ageDays))}
    </dl>`;
  }
}

function actionWords(row: RankingRow, readerOn: string): TemplateResult {
  const visit = `next visit ${date(row.nextVisitOn)}, ${VISIT_WORDS[row.nextVisitFrom]}`;
  return html`<span class="act"
    ><strong>${ACTION_WORDS[row.action]}</strong> ${actDay(row, readerOn)} <span class="soft">(${visit})</span></span
  >`;
}

/** How far off a date is, is told from the reader's own day: the assessment may be some days old. */
function windowSentence(outlook: UnitOutlook, todayOn: string): string {
  if (!isForeseen(outlook)) return 'No failure window can be given. What is missing:';
  const { windowEarlyOn: early, windowMidOn: mid, windowLateOn: late } = outlook;
  if (early === null) return 'Nine in ten like it still work in five years.';
  const from = `One in ten like it has failed by ${date(early)} (${fromDay(early, todayOn)})`;
  const half = mid === null ? 'half later than in five years' : `half by ${date(mid)}`;
  const most = late === null ? 'nine in ten later than in five years' : `nine in ten by ${date(late)}`;
  return `${from}, ${half}, ${most}.`;
}

function decisionSentence(row: RankingRow): TemplateResult | typeof nothing {
  if (row.booking)
    return html`<p>
      Booked for ${date(row.booking.bookedOn)}${row.booking.note === '' ? '' : `: ${row.booking.note}`}.
    </p>`;
  if (row.deferral) return html`<p>Deferred to ${date(row.deferral.untilOn)}: ${row.deferral.reason}</p>`;
  return nothing;
}

customElements.define('component-verdict', ComponentVerdict);
