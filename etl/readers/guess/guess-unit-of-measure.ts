import { CONTRACT_FIELDS, type ContractField, type Measure } from '../../model/contract-fields.ts';
import { unitsOfMeasure } from '../../model/unit-of-measure.ts';
import { LEAST_BANK_VOLTS, LEAST_DIVIDED_VOLTS } from '../kinds/doubtful-units.ts';

/** Spellings of units of measure in headers and in the row under them. */
const SPELLINGS: Readonly<Record<string, string>> = {
  v: 'V',
  volt: 'V',
  volts: 'V',
  mv: 'mV',
  millivolt: 'mV',
  millivolts: 'mV',
  a: 'A',
  amp: 'A',
  amps: 'A',
  ma: 'mA',
  '°c': '°C',
  c: '°C',
  degc: '°C',
  celsius: '°C',
  '°f': '°F',
  f: '°F',
  degf: '°F',
  fahrenheit: '°F',
  k: 'K',
  s: 's',
  sec: 's',
  second: 's',
  seconds: 's',
  ms: 'ms',
  msec: 'ms',
  µs: 'µs',
  us: 'µs',
  μs: 'µs',
  ns: 'ns',
  min: 'min',
  h: 'h',
  hrs: 'h',
  mi: 'mi',
  mile: 'mi',
  miles: 'mi',
  km: 'km',
  kilometers: 'km',
  kilometres: 'km',
  m: 'm',
  rpm: 'rpm',
  '1/min': 'rpm',
  'u/min': 'rpm',
  hz: 'Hz',
  kw: 'kW',
  w: 'W',
};

/** Longer texts name no unit of measure. */
const MOST_CHARACTERS = 100;

/** The unit of measure that a header cell or a cell under it writes out, for this field; null for none. */
export function writtenUnitOfMeasure(field: ContractField | 'seconds', texts: readonly string[]): string | null {
  const allowed = unitsOfMeasure(field === 'seconds' ? 's' : CONTRACT_FIELDS[field]);
  for (const text of texts.map((each) => each.trim().slice(0, MOST_CHARACTERS))) {
    const bracketed = /[([{]\s*([^)\]}]+?)\s*[)\]}]/.exec(text)?.[1];
    const last = /(?:^|[\s_,/-])([^\s_,/()[\]{}-]+)$/.exec(text)?.[1];
    for (const word of [bracketed, last]) {
      const unit = SPELLINGS[word?.toLowerCase() ?? ''];
      if (unit !== undefined && allowed.includes(unit)) return unit;
    }
  }
  return null;
}

/** Per cent, counts of a converter, kilovolts: what a column of numbers may be in, and no field is. */
const OTHER_UNIT = /^(?:%|counts?|adc|raw|bits?|k[va]|[µu]v|\d.*)$/i;

/** What is written where the unit of measure stands and this field has none of; null for nothing such. */
export function otherUnitOfMeasure(field: ContractField, texts: readonly string[]): string | null {
  if (writtenUnitOfMeasure(field, texts) !== null) return null;
  for (const text of texts.map((each) => each.trim().slice(0, MOST_CHARACTERS))) {
    const word = /[([{]\s*([^)\]}]+?)\s*[)\]}]/.exec(text)?.[1] ?? (texts.indexOf(text) > 0 ? text : '');
    if (OTHER_UNIT.test(word) || (word !== '' && SPELLINGS[word.toLowerCase()] !== undefined)) return word;
  }
  return null;
}

/** Whether a cell holds nothing but a unit of measure, as in a row under the header: `(s)`, `mV`, `-` for none. */
export function isUnitOfMeasure(cell: string): boolean {
  const bare = cell.replace(/^[([{]\s*|\s*[)\]}]$/g, '').toLowerCase();
  return ['', '-', '--'].includes(bare) || SPELLINGS[bare] !== undefined;
}

/** What values alone say; `question` where they leave it open. */
export type MeasuredUnit = { unitOfMeasure: string | null; question: string | null };

/** A 12 or 24 V bank under a load dump stays below 65 V; as millivolts no bank in use stays below 1,000. */
const [MOST_VOLTS, LEAST_MILLIVOLTS] = [65, 1000];
/** Batteries and coolant over it are rare in °C, and usual in °F (common practice). */
const WARM_FOR_CELSIUS = 55;
const MOST_CELSIUS = 150;
/** −50 to 80 °C as kelvins. */
const [LEAST_KELVIN, MOST_KELVIN] = [223, 353];
/** A starter draws hundreds of amperes: a log in A passes this, one in mA passes what no starter draws. */
const [LEAST_CRANKING_AMPS, MOST_AMPS] = [20, 6000];
/** Longer than any crank (several TM: no longer than 30 s). */
const MOST_CRANK_SECONDS = 60;

/** Checks the written unit of measure against the values, or tells it by them. */
export function unitOfMeasureBy(field: ContractField, written: string | null, values: readonly number[]): MeasuredUnit {
  const measure = CONTRACT_FIELDS[field];
  const size = Math.max(0, ...values.map(Math.abs));
  const middle = median(values);
  const bank = field === 'volts' || field === 'rest_volts';
  if (bank && written !== 'mV' && middle > LEAST_DIVIDED_VOLTS && middle < LEAST_BANK_VOLTS)
    return {
      unitOfMeasure: written,
      question: `columns: is ${field} behind a divider or a probe? Its middle value is ${middle} (scale, such as 10)`,
    };
  const { unitOfMeasure, between } = judged({ measure, written, size, middle, coolant: field === 'coolant_c' });
  if (between === undefined || values.length === 0) return { unitOfMeasure, question: null };
  return { unitOfMeasure, question: `columns: is ${field} in ${between}? Its middle value is ${middle}` };
}

type Seen = { measure: Measure; written: string | null; size: number; middle: number; coolant: boolean };
/** `between`: what is open. */
type Judged = { unitOfMeasure: string | null; between?: string };

function judged(seen: Seen): Judged {
  if (seen.measure === 'V') return judgedVolts(seen);
  if (seen.measure === '°C') return judgedTemperature(seen);
  if (seen.measure === 'A') return judgedAmps(seen);
  const { measure, written, middle } = seen;
  if (written !== null) return { unitOfMeasure: written };
  if (measure === 'km') return { unitOfMeasure: 'km', between: 'km or mi' };
  if (measure === 's' && middle > MOST_CRANK_SECONDS) return { unitOfMeasure: 'ms', between: 's or ms' };
  return { unitOfMeasure: null };
}

function judgedVolts({ written, size, middle }: Seen): Judged {
  const byValues = middle >= LEAST_MILLIVOLTS ? 'mV' : size <= MOST_VOLTS ? 'V' : null;
  if (byValues === null || (written !== null && written !== byValues))
    return { unitOfMeasure: written, between: 'V or mV' };
  return { unitOfMeasure: byValues === 'V' ? written : byValues };
}

function judgedTemperature({ written, size, middle, coolant }: Seen): Judged {
  if (written === '°F' || written === 'K') return { unitOfMeasure: written };
  const warm = middle > WARM_FOR_CELSIUS && !coolant;
  if (middle >= LEAST_KELVIN && middle <= MOST_KELVIN) return { unitOfMeasure: 'K', between: 'K, °F or °C' };
  if (size > MOST_CELSIUS || warm) return { unitOfMeasure: '°F', between: '°C or °F' };
  return written === null ? { unitOfMeasure: '°C', between: '°C or °F' } : { unitOfMeasure: written };
}

function judgedAmps({ written, size }: Seen): Judged {
  const large = size > MOST_AMPS;
  if (written !== null && large === (written === 'mA')) return { unitOfMeasure: written };
  if (written !== null || large || size < LEAST_CRANKING_AMPS)
    return { unitOfMeasure: written ?? (large ? 'mA' : null), between: 'A or mA' };
  return { unitOfMeasure: null };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
