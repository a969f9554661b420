/** The head of the imports: how much was loaded, and what of it does not count yet. */
import { html, type TemplateResult } from 'lit';
import type { Imports } from '../../api/contract/imports.ts';
import { counted, instant } from '../format.ts';

export function importsHead({ imports, waiting, unreadable, store }: Imports): TemplateResult {
  const taken = imports.reduce((sum, row) => sum + row.taken, 0);
  const aside = imports.reduce((sum, row) => sum + row.setAside, 0);
  const files = counted(imports.length, 'file', 'files');
  const newest = imports.reduce<string | null>((last, { loadedAt }) => laterOf(last, loadedAt), null);
  const open = [
    ...(unreadable.length > 0 ? [`${counted(unreadable.length, 'file', 'files')} could not be read`] : []),
    ...(waiting.length > 0 ? [`rows of ${counted(waiting.length, 'unit waits', 'units wait')} for the register`] : []),
  ];
  return html`<header>
    <h1>
      ${files} loaded: ${counted(taken, 'row', 'rows')} taken,
      ${aside === 0 ? 'none set aside' : `${counted(aside, 'row', 'rows')} set aside`}.
    </h1>
    <p class="soft">
      ${store === 'sample' ? 'The invented sample fleet' : 'Your fleet'}, last loaded ${instant(newest)}.
      ${open.length === 0 ? '' : `${sentence(open.join('; '))}.`}
    </p>
  </header>`;
}

function laterOf(a: string | null, b: string | null): string | null {
  if (a === null || b === null) return a ?? b;
  return Date.parse(a) >= Date.parse(b) ? a : b;
}

function sentence(words: string): string {
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}
