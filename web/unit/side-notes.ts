/** What stands beside the charts: what to measure, what to mind before touching anything, the register's row. */
import { html, nothing, type TemplateResult } from 'lit';
import type { UnitView } from '../../api/contract/unit.ts';
import { date, unbroken } from '../format.ts';
import { testName } from '../words.ts';

const ISO_DAY = /^\d{4}-\d{2}-\d{2}$/;

export function measureNext(tests: UnitView['measureNext']): TemplateResult {
  return html`<section>
    <h2>What to measure next</h2>
    ${
      tests.length === 0
        ? html`<p class="soft">No measurement would change the decision.</p>`
        : html`<ol class="measure">
            ${tests.map(
              (each) =>
                html`<li>
                  <strong>${testName(each.test)}</strong>
                  <p>${unbroken(each.why)}</p>
                  <p>Expect ${unbroken(each.expected)} <span class="soft">(${each.source})</span></p>
                </li>`,
            )}
          </ol>`
    }
  </section>`;
}

export function cautions(unit: UnitView): TemplateResult | typeof nothing {
  if (unit.cautions.length === 0) return nothing;
  return html`<section>
    <h2>Before you touch it</h2>
    <ul>
      ${unit.cautions.map((caution) => html`<li>${caution}</li>`)}
    </ul>
  </section>`;
}

export function register(unit: UnitView): TemplateResult {
  return html`<section>
    <h2>Register</h2>
    ${
      unit.register.length === 0
        ? html`<p class="soft">This unit is not in the register: its rows wait for it.</p>`
        : html`<dl class="register">
            ${unit.register.map(
              ({ label, value }) =>
                html`<dt>${label}</dt>
                  <dd>${ISO_DAY.test(value) ? date(value) : value}</dd>`,
            )}
          </dl>`
    }
  </section>`;
}
