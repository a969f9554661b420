import { Type, type Static } from 'typebox';
import { KINDS } from './kinds.ts';
import { CONTRACT_FIELDS } from './contract-fields.ts';
import { UNITS_OF_MEASURE } from './unit-of-measure.ts';
import { DELIMITERS } from './delimiters.ts';

/**
 * How a foreign file is to be read: data, not code. Written by a person, guessed by a dry run or made on a page, it is
 * always this JSON. The description of each part is what an error says that it requires.
 */
const closed = (description: string) => ({ additionalProperties: false, description });
const word = (description: string, maxLength = 200) => Type.String({ minLength: 1, maxLength, description });
const words = (description: string, maxItems: number) =>
  Type.Array(word(description), { minItems: 1, maxItems, description: `1 to ${maxItems} texts: ${description}` });
const mark = <Word extends string>(allowed: readonly Word[], description: string) =>
  Type.Enum([...allowed], { description });

/** `ignore` leaves out a column whose name would otherwise be taken for a field. */
export const MAPPED_FIELDS = [...Object.keys(CONTRACT_FIELDS), 'ignore'];
export const PARTS_OF_TIME = ['date', 'time'] as const;

const Column = Type.Object(
  {
    field: mark(MAPPED_FIELDS, 'a field that is read, such as unit, time, volts, or ignore'),
    unitOfMeasure: Type.Optional(mark(UNITS_OF_MEASURE, `a unit of measure (${UNITS_OF_MEASURE.join(', ')})`)),
    scale: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, maximum: 1e6, description: 'what one of the file counts, 0 to 1000000' }),
    ),
    reversed: Type.Optional(Type.Boolean({ description: 'true where the file counts discharge as negative' })),
    part: Type.Optional(mark(PARTS_OF_TIME, 'date or time, where an instant stands in two columns')),
    format: Type.Optional(word('a time format of this column where it differs from time.format', 60)),
    values: Type.Optional(
      Type.Record(Type.String(), Type.String({ maxLength: 200, description: 'text' }), {
        description: 'words of the file and what each means, such as {"yes": "1", "no": "0"}',
      }),
    ),
  },
  closed('a field, or an object with field, unitOfMeasure, scale, reversed, part, format, values'),
);
export type ProfileColumn = Static<typeof Column>;

const UnitFrom = Type.Object(
  {
    fileName: Type.Optional(word('a regular expression with a group named unit: (?<unit>…)', 200)),
    preamble: Type.Optional(word('the words before the value on a line above the header')),
  },
  closed('fileName or preamble'),
);

const StartFrom = Type.Object(
  {
    preamble: words('the words before the value on a line above the header', 2),
    format: Type.Optional(word('iso, or a pattern such as dd/MM/yyyy HH:mm:ss', 60)),
  },
  closed('preamble (one line, or two for date and time) and format'),
);

const IntervalFrom = Type.Object(
  { preamble: word('the words before the value on a line above the header') },
  closed('preamble'),
);

const Time = Type.Object(
  {
    format: word(
      'iso, epoch_s, epoch_ms, epoch_us, epoch_ns, spreadsheet_days, seconds_from_start, samples_from_start, or a pattern such as dd/MM/yyyy HH:mm:ss.SSS',
      60,
    ),
    zone: Type.Optional(word('an IANA name such as Europe/Berlin, or an offset such as +01:00', 60)),
    start: Type.Optional(word('an instant, ISO 8601', 60)),
    startFrom: Type.Optional(StartFrom),
    intervalSeconds: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 3600, description: '0 to 3600 s' })),
    intervalFrom: Type.Optional(IntervalFrom),
  },
  closed('an object with format, zone, start, startFrom, intervalSeconds, intervalFrom'),
);
export type ProfileTime = Static<typeof Time>;

const Header = Type.Object(
  {
    line: Type.Optional(Type.Integer({ minimum: 1, maximum: 1000, description: 'a line from 1 to 1000' })),
    words: Type.Optional(words('names of columns that only the header row has', 50)),
    rowsAfter: Type.Optional(
      Type.Integer({ minimum: 0, maximum: 100, description: '0 to 100 rows (units of measure) to pass over' }),
    ),
  },
  closed('an object with line, words, rowsAfter'),
);

export const ENCODINGS = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const;

export const ImportProfile = Type.Object(
  {
    name: word('a name'),
    kind: Type.Optional(mark(KINDS, `a kind of file (${KINDS.join(', ')})`)),
    encoding: Type.Optional(mark(ENCODINGS, 'utf-8, utf-16le, utf-16be or windows-1252')),
    delimiter: Type.Optional(mark(DELIMITERS, 'a comma, a semicolon, a tab or a bar')),
    decimalMark: Type.Optional(mark(['.', ','], 'a point or a comma')),
    groupMark: Type.Optional(
      mark([',', '.', ' ', "'"], 'a comma, a point, a blank or an apostrophe between thousands'),
    ),
    missingMarks: Type.Optional(words('what stands where a value is missing', 20)),
    header: Type.Optional(Header),
    columns: Type.Optional(Type.Record(Type.String(), Column, { description: 'names of columns and their fields' })),
    constants: Type.Optional(
      Type.Record(Type.String(), word('text'), {
        description: 'fields that the file does not have and the value of every row',
      }),
    ),
    time: Type.Optional(Time),
    unit: Type.Optional(word('the unit that every row is of')),
    unitFrom: Type.Optional(UnitFrom),
  },
  closed('an object with name, columns, time and so on'),
);
export type ImportProfile = Static<typeof ImportProfile>;
