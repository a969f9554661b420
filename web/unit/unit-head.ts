/** What a unit's page says at its top: which unit, as known on which day, and how to move to another day or engine. */
import { html, nothing, type TemplateResult } from 'lit';
import type { AsOfEvent } from '../elements/as-of-choice.ts';
import { counted, date, fromDay, instant } from '../format.ts';
import { unitHref } from '../routing.ts';
import type { EngineView } from './engine-view.ts';
import { reassessedWords } from './reassessed-words.ts';
import type { ShownUnit } from './shown-unit.ts';
import '../elements/as-of-choice.ts';

export function unitHead(
  { unit, days, unassessed }: ShownUnit,
  engine: EngineView,
  goTo: (asOf: string) => void,
): TemplateResult {
  const cranks =
    unit.lastCrankAt === null
      ? 'No crank is loaded'
      : `${counted(unit.crankCount, 'crank', 'cranks')}, the last ${instant(unit.lastCrankAt)}`;
  const asOf = unassessed ?? (unit.asOf === unit.newestAsOf ? '' : unit.asOf);
  const place = [unit.class, unit.depot].filter((word) => word !== '').join(', ');
  return html`<header>
    <h1>${unit.unit}${engine.position === '' ? nothing : html` <span class="soft">${engine.position}</span>`}</h1>
    <p class="soft">
      ${place === '' ? 'Not in the register.' : `${place}.`} ${cranks}. As known on
      ${date(unit.asOfOn)}${unit.store === 'sample' ? ', in the invented sample fleet' : ''}.
    </p>
    ${reassessedWords(unit)}
    ${
      unit.asOf === unit.newestAsOf || unassessed !== null
        ? nothing
        : html`<p class="back-then">
            <strong>This is ${date(unit.asOfOn)}, ${fromDay(unit.asOfOn, unit.newestOn)}:</strong> what was known then
            and nothing later; what happened since is told apart.
            <a class="no-print" href=${unitHref(unit.unit, engine.position)}>Back to the newest</a>
          </p>`
    }
    <div class="tools no-print">
      <as-of-choice
        .days=${days}
        .asOf=${unassessed ?? unit.asOf}
        @as-of=${(event: AsOfEvent) => goTo(event.detail)}
      ></as-of-choice>
      ${
        unit.positions.length < 2
          ? nothing
          : html`<span>Engine: ${unit.positions.map((position) => positionLink(position, engine, asOf))}</span>`
      }
      <button class="quiet" @click=${() => window.print()}>Print</button>
    </div>
  </header>`;
}

function positionLink(position: string, engine: EngineView, asOf: string): TemplateResult {
  const current = position === engine.position;
  const word = position === '' ? 'unnamed' : position;
  return current
    ? html`<strong aria-current="true">${word}</strong> `
    : html`<a href=${unitHref(engine.unit.unit, position, asOf)}>${word}</a> `;
}
