/** What the fleet's people decide: prices, hours, time zone, and what the fleet's own repair codes mean. */
import { LitElement, html, nothing, type TemplateResult } from 'lit';
import type { SettingsAnswer, SettingsPatch } from '../../api/contract/settings.ts';
import type { SystemCodes } from '../../api/contract/system-codes.ts';
import { problemOf, problemWords, type ApiClient } from '../api-client.ts';
import { failedNote, emptyNote, loadingNote, pageNoteStyles } from '../elements/page-notes.ts';
import type { CodeEvent } from '../elements/system-code-table.ts';
import type { TypedEvent } from '../elements/settings-table.ts';
import { counted } from '../format.ts';
import { drawPage, type PageState } from '../page-state.ts';
import { changesOf, codesAsSaid, type CodeDraft } from '../settings/settings-changes.ts';
import { settingRows } from '../settings/setting-rows.ts';
import { undoOf, type Draft } from '../settings/settings-fields.ts';
import { pageHead } from '../styles/page-head.ts';
import { shared } from '../styles/shared.ts';
import { settingsPageStyles } from './settings-page.styles.ts';
import '../elements/settings-table.ts';
import '../elements/system-code-table.ts';

type Shown = { answer: SettingsAnswer; codes: SystemCodes };
const NOTHING_TYPED: Draft = new Map();
const NOTHING_SAID: CodeDraft = new Map();

export class SettingsPage extends LitElement {
  static override styles = [shared, pageNoteStyles, pageHead, settingsPageStyles];
  static override properties = {
    client: { attribute: false },
    state: { state: true },
    draft: { state: true },
    codeDraft: { state: true },
    undo: { state: true },
    said: { state: true },
  };
  declare client: ApiClient;
  declare state: PageState<Shown>;
  declare draft: Draft;
  declare codeDraft: CodeDraft;
  /** What takes the last save back. */
  declare undo: SettingsPatch | null;
  /** What became of the last save, said aloud. */
  declare said: string;

  constructor() {
    super();
    this.state = { kind: 'loading' };
    this.draft = NOTHING_TYPED;
    this.codeDraft = NOTHING_SAID;
    this.undo = null;
    this.said = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#load();
  }

  override render(): TemplateResult {
    return drawPage(this.state, {
      loading: () => loadingNote('the settings'),
      empty: emptyNote,
      failed: failedNote,
      ready: (shown) => this.#ready(shown),
    });
  }

  #ready({ answer, codes }: Shown): TemplateResult {
    const changes = changesOf({ answer, draft: this.draft, codeDraft: this.codeDraft });
    const rows = settingRows({ answer, draft: this.draft, refusals: changes.refusals });
    const ofCosts = ({ setting }: { setting: string }) => !['timeZone', 'keptNewestWaveforms'].includes(setting);
    const set = answer.assumptions.filter(({ from }) => from === 'set').length;
    return html`<header>
        <h1>Settings</h1>
        <p class="soft">
          ${counted(answer.assumptions.length, 'figure that nobody measured carries', 'figures that nobody measured carry')}
          the costs: ${set === 0 ? 'all are defaults' : `${counted(set, 'is', 'are')} set by you`}. Replace them by your
          own; the ranking follows at once.
        </p>
      </header>
      <section>
        <h2>What the costs rest on</h2>
        ${this.#table(rows.filter(ofCosts), 'What the costs rest on')}
      </section>
      <section>
        <h2>Days and keeping</h2>
        ${this.#table(
          rows.filter((row) => !ofCosts(row)),
          'Days and keeping',
        )}
      </section>
      <section>
        <h2>Your own repair codes</h2>
        ${this.#codes(codes, answer)}
      </section>
      ${this.#saveLine(changes)}`;
  }

  #table(rows: ReturnType<typeof settingRows>, label: string): TemplateResult {
    return html`<settings-table
      .rows=${rows}
      .label=${label}
      @typed=${({ detail }: TypedEvent) => (this.draft = new Map([...this.draft, [detail.setting, detail.text]]))}
    ></settings-table>`;
  }

  #codes(codes: SystemCodes, answer: SettingsAnswer): TemplateResult {
    if (codes.codes.length === 0)
      return html`<p class="soft">
        ${
          codes.orders === 0
            ? html`No work orders are loaded. Once they are, the codes of their column <code>system_code</code> stand
                here, to be told what they mean.`
            : html`None of the ${counted(codes.orders, 'work order', 'work orders')} carries a code in the column
                <code>system_code</code>: they are read by their words alone.`
        }
      </p>`;
    return html`<p class="soft lead">
        Codes of the column <code>system_code</code>; those of batteries, starters, cables and charging are worth
        telling. The words of a record go first; its code decides where they name no part. Counts with the next
        <code>assess</code>.
      </p>
      <system-code-table
        .codes=${codesAsSaid(codes.codes, answer.settings.systemCodes, this.codeDraft)}
        @code-said=${({ detail }: CodeEvent) =>
          (this.codeDraft = new Map([...this.codeDraft, [detail.code, detail.component]]))}
      ></system-code-table>`;
  }

  #saveLine({ count: many, refusals, patch }: ReturnType<typeof changesOf>): TemplateResult {
    const wrong = refusals.size;
    return html`<div class="save no-print">
      <button class="main" ?disabled=${many === 0 || wrong > 0} @click=${() => void this.#save(patch)}>
        Save ${many === 0 ? nothing : counted(many, 'change', 'changes')}
      </button>
      ${many === 0 && wrong === 0 ? nothing : html`<button @click=${() => this.#discard()}>Discard</button>`}
      ${this.undo === null ? nothing : html`<button @click=${() => void this.#takeBack(this.undo!)}>Undo the last save</button>`}
      <span role="status">
        ${wrong > 0 ? `${counted(wrong, 'value has', 'values have')} to be put right first.` : this.said}
      </span>
    </div>`;
  }

  #discard(): void {
    this.draft = NOTHING_TYPED;
    this.codeDraft = NOTHING_SAID;
    this.said = '';
  }

  async #load(): Promise<void> {
    try {
      const [answer, codes] = await Promise.all([this.client.settings(), this.client.systemCodes()]);
      this.state = { kind: 'ready', data: { answer, codes } };
    } catch (error) {
      this.state = { kind: 'failed', problem: problemOf(error) };
    }
  }

  async #save(patch: SettingsPatch): Promise<void> {
    if (this.state.kind !== 'ready') return;
    const back = undoOf(patch, this.state.data.answer.settings);
    if (await this.#send(patch, `Saved. ${effectOf(patch)}`)) this.undo = back;
  }

  async #takeBack(patch: SettingsPatch): Promise<void> {
    if (await this.#send(patch, 'Taken back: everything stands as it did before.')) this.undo = null;
  }

  /** Where it could not be kept, what was typed stays and the reason is said. */
  async #send(patch: SettingsPatch, done: string): Promise<boolean> {
    try {
      await this.client.saveSettings(patch);
      this.draft = NOTHING_TYPED;
      this.codeDraft = NOTHING_SAID;
      await this.#load();
      this.said = done;
      return true;
    } catch (error) {
      this.said = problemWords(error);
      return false;
    }
  }
}

/** When what was saved counts. */
function effectOf(patch: SettingsPatch): string {
  const later = patch.systemCodes !== undefined || patch.timeZone !== undefined;
  const words = [
    ...(Object.keys(patch).some((name) => !LATER.includes(name)) ? ['Costs count in the ranking at once.'] : []),
    ...(later ? ['Codes and time zone count with the next assess.'] : []),
    ...(patch.keptNewestWaveforms === undefined ? [] : ['Waveforms are kept so from the next load on.']),
  ];
  return words.join(' ');
}

const LATER = ['systemCodes', 'timeZone', 'keptNewestWaveforms'];

customElements.define('settings-page', SettingsPage);
