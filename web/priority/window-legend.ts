/** What the drawings of the list's windows mean. Each sign as it stands in the rows. */
import { html, nothing, type TemplateResult } from 'lit';

export function windowLegend(hasToday: boolean): TemplateResult {
  return html`<p class="legend soft">
    <span
      ><svg width="34" height="12" aria-hidden="true">
        <rect class="bar" x="1" y="2" width="32" height="8" />
        <line class="mid" x1="14" x2="14" y1="0" y2="12" />
      </svg>
      failed by then: 10 · 50 · 90 %</span
    >
    <span>${diamond('visit')} next visit</span>
    <span>${diamond('visit assumed')} next visit, assumed</span>
    ${
      hasToday
        ? html`<span
            ><svg width="5" height="12" aria-hidden="true"><line class="today" x1="2" x2="2" y1="0" y2="12" /></svg>
            today</span
          >`
        : nothing
    }
  </p>`;
}

function diamond(kind: string): TemplateResult {
  return html`<svg width="11" height="12" aria-hidden="true">
    <path class=${kind} d="M5.5 0.5 L10 6 L5.5 11.5 L1 6Z" />
  </svg>`;
}
