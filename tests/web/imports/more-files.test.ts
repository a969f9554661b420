import { nothing, type TemplateResult } from 'lit';
import { expect, it } from 'vitest';
import { moreFiles } from '../../../web/imports/more-files.ts';

/** The words of a template, with all that stands in it. */
function wordsOf(part: unknown): string {
  if (typeof part !== 'object' || part === null) return part === nothing ? '' : String(part);
  const { strings, values } = part as TemplateResult;
  return strings.map((text, index) => text + (index < values.length ? wordsOf(values[index]) : '')).join('');
}

const STORE = ' --store /a/b';

it('beside the sample, own files go into a store of their own: never among the invented units', () => {
  const words = wordsOf(moreFiles({ store: 'sample', storeOption: STORE, canTakeBack: false }));
  expect(words).toContain('npm run -s cli -- load FOLDER<');
  expect(words).not.toContain(STORE);
  expect(words).not.toContain('unload');
});

it('a store of one’s own is named in the commands; where the page takes back, no command is given for it', () => {
  const byHand = wordsOf(moreFiles({ store: 'own', storeOption: STORE, canTakeBack: false }));
  expect(byHand).toContain(`load FOLDER${STORE}`);
  expect(byHand).toContain(`unload NUMBER${STORE}`);
  expect(wordsOf(moreFiles({ store: 'own', storeOption: STORE, canTakeBack: true }))).not.toContain('unload');
});
