/** The scores of one component as tables: beside what anyone could do, and with some records naming the wrong part. */
import { css, html, nothing, type TemplateResult } from 'lit';
import type { TrackRecord } from '../../api/contract/track-record.ts';
import { decimal, probability } from '../format.ts';
import { COMPONENT_WORDS } from '../words.ts';
import { plainTable } from '../styles/plain-table.ts';
import { figure, FORECASTER_WORDS, share } from './record-words.ts';
import { wideTable, type WideTable } from './wide-table.ts';

type Scores = TrackRecord['scores'][number];
type Table = WideTable & { about: string };

export function forecasterTable({ component, forecasters }: Scores): TemplateResult {
  const label = `${COMPONENT_WORDS[component]}: this forecast beside what anyone could do without it`;
  return scoreTable({
    label,
    about: `${label}. In brackets 95 % intervals, drawn by unit. C and AUC: of two parts, how often the one that failed first had the higher forecast; 0.5 is a coin, 1 always right. Brier skill: how much nearer to what came than the base rate; 0 is no nearer, 1 exact. Top 5 and 10\u00a0%: share of the failures among the forecasts that ranked highest.`,
    heads: ['By', 'C (Uno)', 'C (Harrell)', 'AUC', 'Brier skill', 'Found in the top 5 %', 'in the top 10 %'],
    rows: forecasters.map(
      (each) =>
        html`<tr class=${each.forecaster === 'outlook' ? 'own' : ''}>
          <th scope="row" title=${FORECASTER_WORDS[each.forecaster].meaning}>
            ${FORECASTER_WORDS[each.forecaster].name}
          </th>
          <td>${figure(each.unoC)}</td>
          <td>${figure(each.harrellC)}</td>
          <td>${figure(each.auc)}</td>
          <td>${figure(each.skill)}</td>
          <td>${share(each.recallTop5)}</td>
          <td>${share(each.recallTop10)}</td>
        </tr>`,
    ),
  });
}

/** Records name wrong parts: what the scores would be, had a tenth or a fifth of the failures been another part's. */
export function wrongLabelTable({
  component,
  forecasters,
  calibration,
  wrongLabels,
}: Scores): TemplateResult | typeof nothing {
  const rows = wrongLabels.filter(({ auc }) => auc !== null);
  const own = forecasters.find(({ forecaster }) => forecaster === 'outlook');
  if (rows.length === 0 || own === undefined) return nothing;
  const label = `${COMPONENT_WORDS[component]}: the scores if some records named the wrong part`;
  const value = (estimate: { value: number } | null) => estimate?.value ?? null;
  const asRecorded = { share: 0, unoC: value(own.unoC), auc: value(own.auc), skill: value(own.skill) };
  const whole = { ...asRecorded, ratio: value(calibration.ratio), slope: value(calibration.slope) };
  return scoreTable({
    label,
    about: `${label}: a fleet’s records do, and nobody can say which.`,
    heads: [
      'Failures booked under the wrong part',
      'C (Uno)',
      'AUC',
      'Brier skill',
      'Failed for each expected',
      'Slope',
    ],
    rows: [whole, ...rows].map(
      (each) =>
        html`<tr class=${each.share === 0 ? 'own' : ''}>
          <th scope="row">${each.share === 0 ? 'none: as recorded' : probability(each.share)}</th>
          ${[each.unoC, each.auc, each.skill, each.ratio, each.slope].map((figured) => html`<td>${decimal(figured, 2)}</td>`)}
        </tr>`,
    ),
  });
}

function scoreTable({ label, about, heads, rows }: Table): TemplateResult {
  return html`<p class="about">${about}</p>
    ${wideTable({ label, heads, rows })}`;
}

export const scoreTableStyles = [
  plainTable,
  css`
    .scroll {
      margin-block-end: 1.1rem;
    }

    table {
      width: auto;
    }

    .about {
      color: var(--ink-soft);
      font-size: 0.75rem;
      max-width: 60rem;
      margin: 0;
    }

    th,
    td {
      vertical-align: top;
    }

    tr.own th,
    tr.own td {
      font-weight: 600;
    }
  `,
];
