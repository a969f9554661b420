/** Why rows of one file were set aside: each reason with its number and the first lines that it met. */
import { html, nothing, type TemplateResult } from 'lit';
import type { ImportSetAside } from '../../api/contract/imports.ts';
import { count, counted } from '../format.ts';

type Reason = ImportSetAside['reasons'][number];

export function setAsideReasons({ setAside, kept, reasons }: ImportSetAside, storeOption: string): TemplateResult {
  return html`<ul>
      ${reasons.map((reason) => reasonLine(reason))}
    </ul>
    <p class="soft">
      ${kept < setAside ? `Reasons are kept of ${count(kept)} of the ${count(setAside)} rows. ` : nothing}The whole
      list: <code>npm run -s cli -- export set-aside${storeOption}</code>
    </p>`;
}

function reasonLine({ field, reason, rows, first }: Reason): TemplateResult {
  return html`<li>
    ${counted(rows, 'row', 'rows')}${reason.includes(field) ? '' : ` (${field})`}: ${reason}
    <span class="soft line"
      >${first.map((row, index) => html`${index === 0 ? '' : '; '}${whereWords(row)}`)}${rows > first.length ? '; …' : ''}</span
    >
  </li>`;
}

function whereWords({ line, value }: Reason['first'][number]): TemplateResult {
  const where = line === 0 ? 'the whole file' : `line ${line}`;
  return value === '' ? html`${where}, empty` : html`${where}: <code>${value}</code>`;
}
