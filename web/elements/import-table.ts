/** Loaded files, the newest first; each tells on demand why rows of it were set aside, and may be taken back. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { ImportRow, ImportSetAside } from '../../api/contract/imports.ts';
import { count, counted, fileSize, instant } from '../format.ts';
import { fileParts, kindWords } from '../imports/imports-query.ts';
import { setAsideReasons } from '../imports/set-aside-reasons.ts';
import { plainTable } from '../styles/plain-table.ts';
import { shared } from '../styles/shared.ts';
import { importTableStyles } from './import-table.styles.ts';

/** Asks the page to show, or hide, why rows of this import were set aside; or to take it back. */
export type ImportEvent = CustomEvent<ImportRow>;

/** What is known of why rows were set aside: in words where it could not be had. */
export type Reasons = ReadonlyMap<number, ImportSetAside | string>;

const HEADS = ['Number', 'File', 'Loaded', 'Rows taken', 'Set aside'] as const;
const NUMBERS: readonly (typeof HEADS)[number][] = ['Number', 'Rows taken', 'Set aside'];

/** The head of a column again, shown where the columns are stacked. */
const named = (head: (typeof HEADS)[number]) => html`<span class="name-on-phone">${head} </span>`;

export class ImportTable extends LitElement {
  static override styles = [shared, plainTable, importTableStyles];
  static override properties = {
    rows: { attribute: false },
    reasons: { attribute: false },
    canTakeBack: { type: Boolean },
    storeOption: {},
  };
  declare rows: readonly ImportRow[];
  /** Of the imports that are opened. */
  declare reasons: Reasons;
  declare canTakeBack: boolean;
  declare storeOption: string;

  override render(): TemplateResult {
    const label = 'Loaded files, the newest first';
    return html`<div class="scroll" role="region" tabindex="0" aria-label=${label}>
      <table aria-label=${label}>
        <thead>
          <tr>
            ${HEADS.map((head) => html`<th scope="col" class=${NUMBERS.includes(head) ? 'number' : ''}>${head}</th>`)}
            ${this.canTakeBack ? html`<th scope="col" class="no-print"><span class="unseen">Take back</span></th>` : nothing}
          </tr>
        </thead>
        <tbody>
          ${this.rows.map((row) => this.#row(row))}
        </tbody>
      </table>
    </div>`;
  }

  #row(row: ImportRow): TemplateResult {
    const { importId, file, kind, bytes, taken, unknownColumns, loadedAt } = row;
    const { name, folder } = fileParts(file);
    const opened = this.reasons.get(importId);
    return html`<tr>
        <td class="number">${named('Number')}${importId}</td>
        <th scope="row" class="file">
          <strong>${name}</strong> <span class="soft">${kindWords(kind)}, ${fileSize(bytes)}</span>
          ${folder === '' ? nothing : html`<span class="soft line">${folder}</span>`}
          ${
            unknownColumns.length === 0
              ? nothing
              : html`<span class="soft line"
                  >${counted(unknownColumns.length, 'column', 'columns')} not used: ${unknownColumns.join(', ')}</span
                >`
          }
        </th>
        <td>${named('Loaded')}${instant(loadedAt)}</td>
        <td class="number">${named('Rows taken')}${count(taken)}</td>
        <td class="number">${named('Set aside')}${this.#setAside(row, opened !== undefined)}</td>
        ${this.canTakeBack ? html`<td class="no-print">${this.#takeBack(row, name)}</td>` : nothing}
      </tr>
      ${opened === undefined ? nothing : this.#reasonsRow(opened)}`;
  }

  #setAside(row: ImportRow, isOpen: boolean): TemplateResult {
    if (row.setAside === 0) return html`0`;
    return html`${count(row.setAside)}
      <button class="quiet no-print" aria-expanded=${isOpen} @click=${() => this.#tell('reasons-wanted', row)}>
        ${isOpen ? 'Hide' : 'Why'}<span class="unseen"> of import ${row.importId}</span>
      </button>`;
  }

  #takeBack(row: ImportRow, name: string): TemplateResult {
    return html`<button @click=${() => this.#tell('take-back-wanted', row)}>
      Take back<span class="unseen"> ${name}, import ${row.importId}</span>
    </button>`;
  }

  #reasonsRow(reasons: ImportSetAside | string): TemplateResult {
    return html`<tr>
      <td class="spare"></td>
      <td class="reasons" colspan=${this.canTakeBack ? 5 : 4}>
        ${typeof reasons === 'string' ? reasons : setAsideReasons(reasons, this.storeOption)}
      </td>
    </tr>`;
  }

  #tell(what: 'reasons-wanted' | 'take-back-wanted', detail: ImportRow): void {
    this.dispatchEvent(new CustomEvent(what, { detail }) satisfies ImportEvent);
  }
}

customElements.define('import-table', ImportTable);
