import { html, nothing, type TemplateResult } from 'lit';
import type { UnitView } from '../../api/contract/unit.ts';
import { instant } from '../format.ts';

/** That this unit was computed anew by itself, and since when what it is held against stands. */
export function reassessedWords({ reassessed }: Pick<UnitView, 'reassessed'>): TemplateResult | typeof nothing {
  if (reassessed === null) return nothing;
  return html`<p class="soft">
    Computed anew for this unit alone at ${instant(reassessed.at)}; what is usual for its fleet stands as found at
    ${instant(reassessed.parametersAt)}.
  </p>`;
}
