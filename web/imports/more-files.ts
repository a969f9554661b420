/** How more files come in, and how one is taken back where the page cannot do it. */
import { html, type TemplateResult } from 'lit';
import type { Imports } from '../../api/contract/imports.ts';

type Shown = Pick<Imports, 'store' | 'storeOption'> & { canTakeBack: boolean };

export function moreFiles(shown: Shown): TemplateResult {
  return html`<section>
    <h2>More files</h2>
    ${shown.store === 'sample' ? ownFleet() : ownFiles(shown)}
    <p class="soft">How a repair record was read is corrected on the page of its unit.</p>
  </section>`;
}

/** Into a store of its own: what is loaded beside the sample's files would be ranked among invented units. */
function ownFleet(): TemplateResult {
  return html`<p>
    <code>npm run -s cli -- load FOLDER</code> reads your own files, into a store of their own: with the next
    <code>npm start</code> your fleet stands here in place of the sample, whose files are kept as they are.
  </p>`;
}

function ownFiles({ canTakeBack, storeOption }: Shown): TemplateResult {
  const byHand = html`<code>npm run -s cli -- unload NUMBER${storeOption}</code> takes one back.`;
  return html`<p>
    <code>npm run -s cli -- load FOLDER${storeOption}</code> reads a folder of any mixture; files that stand here
    already are not read twice. ${canTakeBack ? '' : byHand}
  </p>`;
}
