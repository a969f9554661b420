/** The parts of a unit's page that show one engine over time: its parts and their work, its indicators, its survival. */
import { html, nothing, type TemplateResult } from 'lit';
import { date } from '../format.ts';
import { COMPONENT_WORDS, INDICATOR_WORDS } from '../words.ts';
import type { EngineView } from './engine-view.ts';
import { trendSentence } from './trend-words.ts';
import '../elements/indicator-figure.ts';
import '../elements/vega-chart.ts';

/** Said once for all that would come of a log. */
export const NO_CRANKS = 'No crank of this unit is loaded: nothing of it has been measured.';

export function historySection(engine: EngineView): TemplateResult {
  return html`<section>
    <h2>Service lives and work orders</h2>
    <p class="soft key">
      Bar: a part in service. Thin bar ahead: failure window. Square: replaced; circle: other work; filled: unplanned.
    </p>
    <vega-chart
      class="history"
      .make=${engine.history}
      .label=${`Service lives and work orders of ${engine.unit.unit} over time; the same facts stand in the table of work orders`}
    ></vega-chart>
  </section>`;
}

export function driftSection({ drifting, without, contextOf, unit }: EngineView, left: number): TemplateResult {
  if (unit.crankCount === 0)
    return html`<section>
      <h2>Indicators over time</h2>
      <p class="soft">${NO_CRANKS}</p>
    </section>`;
  return html`<section>
    <h2>Indicators over time</h2>
    ${
      drifting.length === 0
        ? html`<p class="soft">No indicator has enough days for a chart.</p>`
        : html`<p class="soft key">
            Points: daily medians corrected to the class’s reference temperature; thin line: as logged. Solid: trend,
            with the band that holds 95 % of the days; dashed: carried forward, within its slope’s 95 % interval. Dotted
            upright: part replaced. Strip at the foot: failure window.
          </p>`
    }
    ${drifting.map(
      (trend) =>
        html`<indicator-figure
          .trend=${trend}
          .context=${contextOf(trend.component)}
          .left=${left}
        ></indicator-figure>`,
    )}
    ${
      without.length === 0
        ? nothing
        : html`<ul class="without">
            ${without.map(
              (trend) =>
                html`<li>
                  ${INDICATOR_WORDS[trend.indicator].name} (${COMPONENT_WORDS[trend.component].toLowerCase()}):
                  ${trendSentence(trend)}
                </li>`,
            )}
          </ul>`
    }
  </section>`;
}

export function survivalSection(engine: EngineView): TemplateResult | typeof nothing {
  if (engine.outlooks.every((outlook) => outlook.survival.length === 0)) return nothing;
  return html`<section>
    <h2>Chance of still working</h2>
    <p class="soft key">
      Given that it works on ${date(engine.unit.asOfOn)}. The window’s dates are where the curve crosses 90, 50, 10 %.
    </p>
    <vega-chart
      .make=${engine.survival}
      .label=${'Chance of still working over time, for each component; the dates of the failure window stand in the verdict above'}
    ></vega-chart>
  </section>`;
}
