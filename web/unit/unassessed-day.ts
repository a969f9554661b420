/** A day that nobody assessed: how it can be, and which days near it were. */
import { html, nothing, type TemplateResult } from 'lit';
import type { ApiClient } from '../api-client.ts';
import { date } from '../format.ts';
import { unitHref } from '../routing.ts';
import { earlierDay, laterDay } from './assessed-days.ts';
import type { ShownUnit } from './shown-unit.ts';
import '../elements/run-offer.ts';

export type UnassessedPlace = { client: ApiClient; position: string; done: () => void };

export function unassessedDay(
  { unit, days, storeOption }: ShownUnit,
  asOf: string,
  place: UnassessedPlace,
): TemplateResult {
  const near = [earlierDay(days, asOf), laterDay(days, asOf)].flatMap((day) => (day === null ? [] : [day]));
  const ahead = asOf > unit.newestOn;
  const links = near.map(
    (day) => html` <a href=${unitHref(unit.unit, place.position, day)}>${date(day.slice(0, 10))}</a>`,
  );
  return html`<section class="unassessed">
    <h2>${date(asOf)} ${ahead ? 'lies after all data' : 'has not been assessed'}</h2>
    ${
      ahead
        ? nothing
        : html`<p>What was known that day can be worked out, for the whole fleet at once:</p>
            <run-offer
              .client=${place.client}
              what="assess"
              .asOf=${asOf}
              .storeOption=${storeOption}
              @run-done=${place.done}
            ></run-offer>`
    }
    <p>Assessed nearby:${links}.</p>
  </section>`;
}
