import { CONTRACT_FIELDS, type ContractField } from '../../model/contract-fields.ts';
import type { ImportProfile, ProfileColumn } from '../../model/import-profile.ts';
import { missingMarksIn, numbersOf, textsOf, unitsInCells } from './guess-cells.ts';
import { thousandsQuestion } from './guess-decimals.ts';
import { headerWords, namedColumn, type NamedColumn } from './guess-fields.ts';
import type { Layout } from './guess-layout.ts';
import { guessClock, guessCountedTime } from './guess-counted-time.ts';
import { guessStart } from './guess-start.ts';
import { guessTime, type GuessedTime } from './guess-time.ts';
import { otherUnitOfMeasure, unitOfMeasureBy, writtenUnitOfMeasure } from './guess-unit-of-measure.ts';

/** Less is no crank and says nothing of the sense. */
const LEAST_DISCHARGE_AMPS = 50;
const FLAG_WORDS: Readonly<Record<string, string>> = {
  yes: '1',
  no: '0',
  true: '1',
  false: '0',
  on: '1',
  off: '0',
  ja: '1',
  nein: '0',
  oui: '1',
  non: '0',
  si: '1',
};
/** What an answer to the question after a time's form looks like. */
const PATTERN = "a pattern such as dd-MMM-yyyy HH:mm:ss 'EST', other words in quotes";
const UNIT_KEY = /^(?:unit|vehicle|asset|truck|bus|fahrzeug|vehicule|vehiculo)(?: id| no| number| nr)?$/;

type Column = { name: string; index: number; named: NamedColumn };

/** Each part of a profile as one table's words and values say it; what they leave open gathers in `questions`. */
export class TableGuess {
  readonly questions: string[];
  readonly #layout: Layout;
  readonly #all: readonly Column[];

  constructor(layout: Layout) {
    this.#layout = layout;
    this.questions = [...layout.questions];
    this.#all = layout.names.map((name, index) => ({ name, index, named: namedColumn(name) }));
  }

  header(): Pick<ImportProfile, 'header'> {
    const { headerLine, unitRows, names } = this.#layout;
    const rowsAfter = unitRows.length === 0 ? {} : { rowsAfter: unitRows.length };
    if (headerLine > 1) return { header: { words: names.filter((name) => name !== '').slice(0, 50), ...rowsAfter } };
    return unitRows.length === 0 ? {} : { header: rowsAfter };
  }

  missing(): Pick<ImportProfile, 'missingMarks'> {
    const found = missingMarksIn(this.#layout);
    return found.length === 0 ? {} : { missingMarks: found };
  }

  columns(): Record<string, ProfileColumn> {
    const columns: Record<string, ProfileColumn> = {};
    const filled = new Map<string, string>();
    for (const column of this.#all) {
      const isHalf = this.#paired() && column.named.half !== null;
      const field = isHalf ? 'time' : (column.named.field ?? this.#channelField(column));
      if (field === null || ['', '__proto__'].includes(column.name) || Object.hasOwn(columns, column.name)) continue;
      const key = field === 'time' ? `time ${this.#paired() ? column.named.half : ''}` : field;
      const other = filled.get(key);
      if (other === undefined) {
        filled.set(key, column.name);
        columns[column.name] = this.#column(column, field);
      } else this.questions.push(`columns: is ${field} in ${other} or in ${column.name}?`);
    }
    return columns;
  }

  /** A channel of an instrument, or another column in volts, is the battery's voltage only if a person says so. */
  #channelField(column: Column): ContractField | null {
    if (this.#all.some(({ named }) => named.field === 'volts')) return null;
    const unit = writtenUnitOfMeasure('volts', this.#wordsOf(column));
    if (unit === null && !(column.named.channel && this.#numbers(column.index).length > 0)) return null;
    const also = unit === null ? ', and in V (else unitOfMeasure)' : '';
    this.questions.push(`columns: is ${column.name} the voltage at the battery's terminals${also}?`);
    return 'volts';
  }

  #column({ index, name, named }: Column, field: ContractField): ProfileColumn {
    const measure = CONTRACT_FIELDS[field];
    if (field === 'time' && this.#paired() && named.half !== null) return { field, part: named.half };
    if (measure === 'flag') return { field, ...this.#flagValues(index) };
    if (measure === 'text' || measure === 'instant' || measure === 'date') return { field };
    const written = writtenUnitOfMeasure(field, [
      ...this.#wordsOf({ index, name }),
      ...this.#unitsInCells(name, index),
    ]);
    const other = otherUnitOfMeasure(field, this.#wordsOf({ index, name }));
    if (other !== null)
      this.questions.push(`columns: ${name} is written in ${other}: how much ${measure} is one? (scale)`);
    const { unitOfMeasure, question } = unitOfMeasureBy(field, written, this.#numbers(index));
    if (question !== null) this.questions.push(`${question} (column ${name})`);
    if (measure === 'km' || measure === 'money' || written === 'mV') this.#askThousands(name, index);
    if (measure === 'A') this.#askSense(name, this.#numbers(index));
    return unitOfMeasure === null ? { field } : { field, unitOfMeasure };
  }

  #askThousands(name: string, index: number): void {
    const { decimalMark, groupMark } = this.#layout;
    const question = groupMark === null ? thousandsQuestion(name, this.#texts(index), decimalMark) : null;
    if (question !== null) this.questions.push(question);
  }

  /** A crank draws far more than any alternator gives: where the largest values are negative, so is discharge. */
  #askSense(name: string, values: readonly number[]): void {
    const [least, most] = [Math.min(...values), Math.max(...values)];
    if (-least > Math.max(most, LEAST_DISCHARGE_AMPS))
      this.questions.push(`columns: is discharge negative in ${name}? (reversed; its least value is ${least})`);
  }

  #wordsOf({ index, name }: Pick<Column, 'index' | 'name'>): string[] {
    return [name, ...this.#layout.unitRows.map((row) => row[index] ?? '')];
  }

  #unitsInCells(name: string, index: number): string[] {
    const units = unitsInCells(this.#texts(index));
    if (units.length > 1) this.questions.push(`columns: ${name} has cells in ${units.join(' and in ')}: which is it?`);
    return units.slice(0, 1);
  }

  #flagValues(index: number): Pick<ProfileColumn, 'values'> {
    const words = [...new Set(this.#texts(index))].filter((word) => !/^[01]?$/.test(word));
    const known = words.filter((word) => FLAG_WORDS[word.toLowerCase()] !== undefined);
    if (known.length === 0) return {};
    return { values: Object.fromEntries(known.map((word) => [word, FLAG_WORDS[word.toLowerCase()]!])) };
  }

  #texts(index: number): string[] {
    return textsOf(this.#layout, index);
  }

  #numbers(index: number): number[] {
    return numbersOf(this.#layout, index);
  }

  /** Whether a date and a clock stand in two columns. */
  #paired(): boolean {
    return ['date', 'time'].every((half) => this.#all.some(({ named }) => named.half === half));
  }

  /** The format of `time`; formats of other times and dates go to their columns where they differ. */
  time(columns: Record<string, ProfileColumn>): Pick<ImportProfile, 'time'> {
    const others = this.#all.filter(({ name }) => {
      const field = columns[name]?.field;
      return field !== undefined && field !== 'ignore' && field !== 'time' && isTime(field as ContractField);
    });
    let found = this.#mainTime(columns, others.length > 0);
    for (const { name, index } of others) {
      const own = guessTime(this.#texts(index));
      if (own === null) continue;
      this.questions.push(...own.questions);
      if (found === null) found = own;
      else if (own.time.format !== found.time.format) columns[name]!.format = own.time.format;
    }
    return found === null ? {} : { time: found.time };
  }

  #mainTime(columns: Record<string, ProfileColumn>, othersThere: boolean): GuessedTime | null {
    const own = this.#all.filter(({ name }) => columns[name]?.field === 'time');
    if (own.length === 0 && (othersThere || !this.#all.some(({ name }) => columns[name]?.field === 'volts')))
      return null;
    if (own.length === 0) {
      const counted = guessStart(this.#layout.preamble, true);
      this.questions.push(...counted.questions);
      return counted;
    }
    const texts = this.#layout.rows.map((row) =>
      [...own]
        .sort(byHalf)
        .map(({ index }) => row[index] ?? '')
        .join(' '),
    );
    this.#askHalfDay();
    const guessed = guessTime(texts.map((text) => text.trim()));
    const clock = own.length === 1 && guessed === null ? guessClock(this.#texts(own[0]!.index)) : null;
    if (clock !== null) {
      columns[own[0]!.name]!.unitOfMeasure = clock.unitOfMeasure;
      this.questions.push(...clock.time.questions);
      return clock.time;
    }
    if (guessed === null) this.questions.push(`time.format: how is a time such as ${texts[0]} written? (${PATTERN})`);
    else this.questions.push(...guessed.questions);
    if (guessed?.time.format !== 'seconds_from_start') return guessed;
    const { name } = own[0]!;
    const unit = writtenUnitOfMeasure('seconds', this.#wordsOf(own[0]!));
    if (unit === null) this.questions.push(`columns: is ${name} in s or ms?`);
    else columns[name]!.unitOfMeasure = unit;
    const start = guessCountedTime(this.#layout.preamble, this.#numbers(own[0]!.index)[0] ?? 0, unit);
    this.questions.push(...start.questions);
    return start;
  }

  /** Without its half of the day a clock is twelve hours wrong. */
  #askHalfDay(): void {
    for (const { name, index } of this.#all) {
      const texts = this.#texts(index).filter((text) => text !== '');
      if (texts.length > 0 && texts.every((text) => /^[ap]\.?m\.?$/i.test(text)))
        this.questions.push(`time: ${name} holds AM and PM in a column of its own: join it to the time in the file`);
    }
  }

  /** Where the unit comes from when no column has it. */
  unit(): Pick<ImportProfile, 'unitFrom'> {
    if (this.#all.some(({ named }) => named.field === 'unit')) return {};
    for (const line of this.#layout.preamble) {
      const key = /^[\s"#]*([^:=,;\t|"]+)"?\s*[:=,;\t|]\s*"?\S/.exec(line.trim().slice(0, 200))?.[1]?.trim();
      if (key !== undefined && UNIT_KEY.test(headerWords(key))) return { unitFrom: { preamble: key } };
    }
    this.questions.push('unit: which unit is it? (unit, or unitFrom.fileName with a pattern such as ^(?<unit>[^_]+)_)');
    return {};
  }
}

const byHalf = (a: Column, b: Column) => Number(a.named.half === 'time') - Number(b.named.half === 'time');

function isTime(field: ContractField): boolean {
  return CONTRACT_FIELDS[field] === 'instant' || CONTRACT_FIELDS[field] === 'date';
}
