/**
 * A failure window drawn on the list's time axis: a bar from 10 to 90 %, a tick at 50 %, today, the next visit.
 * Plain SVG with percentages, so that it stands with the row, before any chart library has loaded. Functions and not
 * an element: forty rows are in view and each would be a shadow root.
 */
import { css, nothing, svg, html, type SVGTemplateResult, type TemplateResult } from 'lit';
import type { RankingRow } from '../../api/contract/ranking.ts';
import { isForeseen } from '../foreseen.ts';
import { date, monthAndYear } from '../format.ts';
import type { WindowAxis } from '../priority/window-axis.ts';
import { windowWords } from '../priority/window-words.ts';

export type WindowMarks = {
  axis: WindowAxis;
  asOfOn: string;
  todayOn: string;
  /** Where an earlier day is shown: the day on which the part truly failed or was replaced. */
  endedOn?: string;
};

const inside = (percent: number) => percent >= 0 && percent <= 100;
const at = (percent: number) => `${Math.min(100, Math.max(0, percent))}%`;

export function windowBar(row: RankingRow, marks: WindowMarks): TemplateResult {
  return html`<svg class="window ${row.component}" role="img" aria-label=${windowWords(row)} height="20" width="100%">
    ${isForeseen(row) ? forecast(row, marks) : svg`<text class="note" x="4%" y="14">no outlook</text>`}
    ${marks.endedOn === undefined ? nothing : endCross(marks.endedOn, marks.axis)}
  </svg>`;
}

function forecast(row: RankingRow, marks: WindowMarks): SVGTemplateResult {
  const { windowEarlyOn: early } = row;
  return svg`${gridLines(marks)}
    ${early === null ? beyond('over 5 years') : bar(row, early, marks.axis)}
    ${visit(row, marks.axis)}`;
}

function gridLines({ axis, asOfOn, todayOn }: WindowMarks): SVGTemplateResult[] {
  const line = (percent: number, kind: string) =>
    svg`<line class=${kind} x1=${at(percent)} x2=${at(percent)} y1="0" y2="100%"></line>`;
  const days = [line(axis.percent(asOfOn), 'as-of')];
  const today = axis.percent(todayOn);
  if (todayOn !== asOfOn && inside(today)) days.push(line(today, 'today'));
  return [...axis.ticks.map((tick) => line(tick.percent, 'grid')), ...days];
}

function bar(row: RankingRow, earlyOn: string, axis: WindowAxis): SVGTemplateResult {
  const early = axis.percent(earlyOn);
  if (early > 100) return beyond(`from ${monthAndYear(earlyOn)}`);
  const late = row.windowLateOn === null ? Infinity : axis.percent(row.windowLateOn);
  const mid = row.windowMidOn === null ? Infinity : axis.percent(row.windowMidOn);
  const left = Math.max(0, early);
  return svg`
    <rect class="bar" x=${at(left)} width=${at(Math.min(100, late) - left)} y="5" height="10"></rect>
    ${inside(mid) ? svg`<line class="mid" x1=${at(mid)} x2=${at(mid)} y1="2" y2="18"></line>` : nothing}
    ${late > 100 ? openEnd() : nothing}`;
}

function beyond(words: string): SVGTemplateResult {
  return svg`<text class="note" x="100%" dx="-14" y="14" text-anchor="end">${words}</text>${openEnd()}`;
}

/** The window goes on past the axis. Zero-size inner svg: it carries pixels to a place given in percent. */
function openEnd(): SVGTemplateResult {
  return svg`<svg x="100%" y="10" overflow="visible"><path class="open" d="M-8-6 L-2 0 L-8 6"></path></svg>`;
}

/** A diamond: filled where the visit is a fact, hollow where it is assumed. */
function visit(row: RankingRow, axis: WindowAxis): SVGTemplateResult | typeof nothing {
  const percent = axis.percent(row.nextVisitOn);
  if (!inside(percent)) return nothing;
  const kind = row.nextVisitFrom === 'assumed' ? 'visit assumed' : 'visit';
  return svg`<svg x=${at(percent)} y="10" overflow="visible"><path class=${kind} d="M0-5.5 L4.5 0 L0 5.5 L-4.5 0Z"></path></svg>`;
}

/** A cross: the part's last day. */
function endCross(on: string, axis: WindowAxis): SVGTemplateResult | typeof nothing {
  const percent = axis.percent(on);
  if (!inside(percent)) return nothing;
  return svg`<svg x=${at(percent)} y="10" overflow="visible"><path class="end" d="M-5-5 L5 5 M-5 5 L5-5"></path></svg>`;
}

/** The axis above the rows, on the same percentages. */
export function windowAxisHead({ axis, asOfOn, todayOn }: WindowMarks): TemplateResult {
  const asOf = axis.percent(asOfOn);
  const today = axis.percent(todayOn);
  return html`<svg class="axis" aria-hidden="true" height="34" width="100%">
    <text x=${at(asOf)} dx="-2" y="11">as of ${date(asOfOn)}</text>
    ${
      todayOn !== asOfOn && inside(today) && today > 45
        ? svg`<text x=${at(today)} y="11" text-anchor=${today > 90 ? 'end' : 'middle'}>today</text>`
        : nothing
    }
    ${axis.ticks
      .filter((tick) => tick.percent > 8 && tick.percent < 93)
      .map(
        (tick, index) =>
          svg`<text class=${index % 2 === 0 ? '' : 'between'} x=${at(tick.percent)} y="28" text-anchor="middle">${tick.label}</text>`,
      )}
    <line class="as-of" x1=${at(asOf)} x2=${at(asOf)} y1="15" y2="34"></line>
  </svg>`;
}

export const windowBarStyles = css`
  svg.window,
  svg.axis {
    display: block;
    overflow: visible;
  }

  svg .grid {
    stroke: var(--rule);
  }

  svg .as-of {
    stroke: var(--ink-soft);
  }

  svg .today {
    stroke: var(--ink);
    stroke-dasharray: 2 2;
  }

  svg .bar {
    fill: var(--bar);
    fill-opacity: 0.42;
    stroke: var(--bar);
  }

  svg .mid {
    stroke: var(--bar);
    stroke-width: 3;
  }

  svg .open {
    fill: none;
    stroke: var(--bar);
    stroke-width: 1.75;
  }

  svg .visit {
    fill: var(--ink);
    stroke: var(--sheet);
  }

  svg .visit.assumed {
    fill: var(--sheet);
    stroke: var(--ink);
  }

  svg .end {
    stroke: var(--ink);
    stroke-width: 2.5;
  }

  svg text {
    fill: var(--ink-soft);
    font: 400 0.6875rem var(--text-face);
  }

  /* On paper the column is narrow: every other label. */
  @media print {
    svg .between {
      display: none;
    }
  }

  svg.battery {
    --bar: var(--battery);
  }

  svg.starter {
    --bar: var(--starter);
  }
`;
