/** The sentence above the list, and what stands under it: of which day it speaks, and what it cannot speak of. */
import { html, nothing, type TemplateResult } from 'lit';
import type { Ranking } from '../../api/contract/ranking.ts';
import { count, counted, date, fromDay, money } from '../format.ts';
import { summarise, type RankingSummary } from './ranking-summary.ts';

/** `offer`: how a list that lags behind its data is brought up to them. */
export function rankingHead(ranking: Ranking, todayOn: string, offer: TemplateResult): TemplateResult {
  const sum = summarise(ranking);
  const fleet = ranking.store === 'sample' ? 'of the invented sample fleet' : 'of your fleet';
  return html`<header>
    <h1>${mainSentence(sum, fleet, ranking.currency)}</h1>
    <p class="soft">
      ${counted(sum.units, 'unit', 'units')} ${fleet}, as known on ${knownOn(ranking.asOfOn, todayOn)}.
      ${sum.toMeasure > 0 ? `${counted(sum.toMeasure, 'job waits', 'jobs wait')} for a measurement first.` : nothing}
      ${sum.unforeseen > 0 ? `${counted(sum.unforeseen, 'component has', 'components have')} no forecast: beside each stands why.` : nothing}
      ${sum.booked > 0 ? `${count(sum.booked)} already booked.` : nothing}
      ${sum.deferred > 0 ? `${count(sum.deferred)} deferred.` : nothing}
      ${
        ranking.previousAsOf !== null && sum.risen > 0
          ? `${count(sum.risen)} of those to book moved up ten places or more since ${date(ranking.previousAsOf.slice(0, 10))}.`
          : nothing
      }
    </p>
    ${
      ranking.stale
        ? html`<div class="stale">
            <p><strong>Data or settings have changed since.</strong> This list does not know it yet.</p>
            ${offer}
          </div>`
        : nothing
    }
  </header>`;
}

function mainSentence(sum: RankingSummary, fleet: string, currency: string): string {
  const units = counted(sum.units, 'unit', 'units');
  if (sum.openJobs > 0)
    return (
      `Book ${counted(sum.openJobs, 'job', 'jobs')} on ${counted(sum.openUnits, 'unit', 'units')} now: leaving ` +
      `them to their next visit is expected to cost ${money(sum.waitingMinor, currency)}.`
    );
  // Nothing to book because nothing is known is no all-clear.
  if (sum.foreseen === 0) return `Nothing can be forecast yet for the ${units} ${fleet}.`;
  return `Nothing needs booking today among ${units} ${fleet}.`;
}

/** A list that is some days old says so: its dates may lie behind whoever reads it. */
function knownOn(asOfOn: string, todayOn: string): string {
  return asOfOn < todayOn ? `${date(asOfOn)} (${fromDay(asOfOn, todayOn)})` : date(asOfOn);
}
