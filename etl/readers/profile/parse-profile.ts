import { Value } from 'typebox/value';
import { CONTRACT_FIELDS, isContractField, type ContractField } from '../../model/contract-fields.ts';
import { ImportProfile, type ProfileColumn, type ProfileTime } from '../../model/import-profile.ts';
import { conversionOf, unitsOfMeasure } from '../../model/unit-of-measure.ts';
import { safeExpression } from './safe-expression.ts';
import { FROM_START, timeFormat } from './time-format.ts';

/**
 * The profile that a JSON text holds. Throws RangeError: `<what> requires <condition>, got <value> (<file><JSON path>)`.
 * A column may be written short, `"Ch A": "volts"`, and a time of which only the zone is wanting, `{ "zone": "Europe/Berlin" }`.
 */
export function parseProfile(json: string, where: string): ImportProfile {
  let value: unknown;
  try {
    value = JSON.parse(json);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new RangeError(`profile requires JSON, got other text: ${why} (${where})`);
  }
  const long = withTimeFormat(withLongColumns(value));
  const fault = schemaFault(long) ?? meaningFault(long as ImportProfile);
  if (fault === null) return long as ImportProfile;
  const { path, requires, got } = fault;
  throw new RangeError(`profile requires ${requires}, got ${got} (${where} ${path === '' ? '/' : path})`);
}

type Fault = { path: string; requires: string; got: string };

function withLongColumns(value: unknown): unknown {
  if (!isRecord(value) || !isRecord(value['columns'])) return value;
  const columns = Object.entries(value['columns']).map(([name, column]) => [
    name,
    typeof column === 'string' ? { field: column } : column,
  ]);
  return { ...value, columns: Object.fromEntries(columns) };
}

function withTimeFormat(value: unknown): unknown {
  if (!isRecord(value) || !isRecord(value['time']) || Object.keys(value['time']).join() !== 'zone') return value;
  return { ...value, time: { format: 'iso', ...value['time'] } };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** What a schema says of its parts; only what is needed to find a description. */
type Described = {
  description?: string;
  properties?: Record<string, Described>;
  patternProperties?: Record<string, Described>;
  items?: Described;
};

function schemaFault(value: unknown): Fault | null {
  const error = Value.Errors(ImportProfile, value)[0];
  if (error === undefined) return null;
  const path = error.instancePath;
  const steps = path.split('/').slice(1).map(unescaped);
  if (error.keyword === 'required') {
    const name = error.params.requiredProperties[0]!;
    const requires = `${name}: ${describe([...steps, name])}`;
    return { path, requires, got: 'none' };
  }
  if (error.keyword === 'boolean') {
    const parent = steps.slice(0, -1);
    return { path: path.slice(0, path.lastIndexOf('/')), requires: describe(parent), got: steps.at(-1)! };
  }
  const at = steps.reduce<unknown>((part, step) => (part as Record<string, unknown>)[step], value);
  return { path, requires: describe(steps), got: shortJson(at) };
}

function describe(steps: readonly string[]): string {
  let schema: Described | undefined = ImportProfile as Described;
  let found = schema.description ?? '';
  for (const step of steps) {
    schema = schema?.properties?.[step] ?? Object.values(schema?.patternProperties ?? {})[0] ?? schema?.items;
    found = schema?.description ?? found;
  }
  return found;
}

const unescaped = (step: string) => step.replaceAll('~1', '/').replaceAll('~0', '~');
const escaped = (step: string) => step.replaceAll('~', '~0').replaceAll('/', '~1');

function shortJson(value: unknown): string {
  const text = JSON.stringify(value) ?? 'none';
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

/** What a schema cannot say: parts that do not fit together. */
function meaningFault(profile: ImportProfile): Fault | null {
  const faults = [columnsFault(profile), constantsFault(profile), timeFault(profile.time), marksFault(profile)];
  return faults.find((fault) => fault !== null) ?? unitFault(profile);
}

function columnsFault(profile: ImportProfile): Fault | null {
  const filled = new Map<string, string>();
  for (const [name, column] of Object.entries(profile.columns ?? {})) {
    const path = `/columns/${escaped(name)}`;
    if (!isContractField(column.field)) continue;
    const fault = columnFault(column, column.field, profile.time);
    if (fault !== null) return { ...fault, path: `${path}/${fault.path}` };
    const key = `${column.field} ${column.part ?? ''}`;
    const other = filled.get(key);
    if (other !== undefined)
      return { path, requires: 'one column for each field', got: `${column.field} also for ${other}` };
    filled.set(key, name);
  }
  for (const field of new Set(Object.values(profile.columns ?? {}).map((column) => column.field))) {
    const parts = ['date', 'time', ''].filter((part) => filled.has(`${field} ${part}`));
    if (parts.length > 0 && parts.join() !== '' && parts.join() !== 'date,time')
      return { path: '/columns', requires: `a date and a time column for ${field}`, got: parts.join(' and ') };
  }
  return null;
}

function columnFault(column: ProfileColumn, field: ContractField, time: ProfileTime | undefined): Fault | null {
  const measure = CONTRACT_FIELDS[field];
  const { unitOfMeasure, part, format, scale } = column;
  if (unitOfMeasure !== undefined) {
    const fromStart = field === 'time' && time?.format === 'seconds_from_start';
    const allowed = unitsOfMeasure(fromStart ? 's' : measure);
    if (!allowed.includes(unitOfMeasure)) {
      const requires = allowed.length === 0 ? `no unit of measure for ${field}` : `${allowed.join(', ')} for ${field}`;
      return { path: 'unitOfMeasure', requires, got: unitOfMeasure };
    }
  }
  if (scale !== undefined && (conversionOf(measure, measure) === null || unitOfMeasure?.includes(':') === true))
    return { path: 'scale', requires: 'a field that holds a number', got: unitOfMeasure ?? field };
  if (column.reversed !== undefined && measure !== 'A')
    return { path: 'reversed', requires: 'a current, which has two senses', got: field };
  if (part !== undefined && measure !== 'instant')
    return { path: 'part', requires: 'a field that holds an instant', got: field };
  if (format === undefined) return null;
  if (measure !== 'instant' && measure !== 'date')
    return { path: 'format', requires: 'a field that holds a time or a date', got: field };
  return thrown('format', () => timeFormat({ ...time, format }));
}

function marksFault({ decimalMark = '.', groupMark }: ImportProfile): Fault | null {
  if (groupMark !== decimalMark) return null;
  return { path: '/groupMark', requires: `another mark than that of decimals (${decimalMark})`, got: groupMark };
}

function constantsFault({ columns = {}, constants = {} }: ImportProfile): Fault | null {
  for (const field of Object.keys(constants)) {
    const path = `/constants/${escaped(field)}`;
    if (!isContractField(field)) return { path, requires: 'a field that is read', got: field };
    const column = Object.keys(columns).find((name) => columns[name]!.field === field);
    if (column !== undefined) return { path, requires: 'a field that no column fills', got: `column ${column}` };
  }
  return null;
}

function timeFault(time: ProfileTime | undefined): Fault | null {
  if (time === undefined) return null;
  const fault = thrown('/time', () => timeFormat(time));
  if (fault !== null || !FROM_START.includes(time.format)) return fault;
  if ((time.start === undefined) === (time.startFrom === undefined))
    return { path: '/time', requires: 'start or startFrom with this format', got: time.format };
  const interval = time.intervalSeconds ?? time.intervalFrom;
  if (time.format === 'samples_from_start' && interval === undefined)
    return { path: '/time', requires: 'intervalSeconds or intervalFrom with this format', got: time.format };
  const { format = 'iso' } = time.startFrom ?? {};
  return thrown('/time/startFrom/format', () => timeFormat({ ...time, format })) ?? startFault(time);
}

function startFault(time: ProfileTime): Fault | null {
  if (time.start === undefined) return null;
  const us = timeFormat({ ...time, format: 'iso' }).instant(time.start);
  if (typeof us === 'number') return null;
  return { path: '/time/start', requires: 'an instant with zone, or time.zone', got: time.start };
}

function unitFault({ unit, unitFrom, columns = {}, constants = {} }: ImportProfile): Fault | null {
  const fromColumn = Object.values(columns).some(({ field }) => field === 'unit') || 'unit' in constants;
  const sources = [unit, unitFrom?.fileName, unitFrom?.preamble].filter((source) => source !== undefined).length;
  if (sources + Number(fromColumn) > 1)
    return { path: '/unit', requires: 'one source of the unit', got: `${sources + Number(fromColumn)}` };
  if (unitFrom !== undefined && sources === 0)
    return { path: '/unitFrom', requires: 'fileName or preamble', got: 'neither' };
  if (unitFrom?.fileName === undefined) return null;
  const fault = thrown('/unitFrom/fileName', () => safeExpression(unitFrom.fileName!));
  if (fault !== null || unitFrom.fileName.includes('(?<unit>')) return fault;
  return { path: '/unitFrom/fileName', requires: 'a group named unit: (?<unit>…)', got: unitFrom.fileName };
}

/** What a check further in says in the same grammar. */
function thrown(path: string, check: () => unknown): Fault | null {
  try {
    check();
    return null;
  } catch (error) {
    const parts = error instanceof RangeError ? /^(.*?) requires (.*), got (.*)$/s.exec(error.message) : null;
    if (parts === null) throw error;
    return { path, requires: `${parts[1]} of ${parts[2]}`, got: parts[3]! };
  }
}
