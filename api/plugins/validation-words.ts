import type { FastifyError } from 'fastify';
import { counted } from '../../etl/model/counted.ts';

/** What is wrong with a request, in the program's grammar: `limit requires 1 or more, got 0 (query)`. */
export function validationWords({ validation, validationContext }: FastifyError): string {
  const where = PLACES[validationContext ?? ''] ?? 'request';
  return (validation ?? []).map((each) => words(each as Finding, where)).join('; ');
}

/** As the validator tells it; `data` because it is asked to be verbose. */
type Finding = {
  keyword: string;
  instancePath: string;
  params: Record<string, unknown>;
  message?: string;
  data?: unknown;
};

const PLACES: Readonly<Record<string, string>> = { body: 'body', querystring: 'query', params: 'address' };

function words({ keyword, instancePath, params, message, data }: Finding, where: string): string {
  const path = instancePath.slice(1).replaceAll('/', '.');
  if (keyword === 'required')
    return `${[path, params['missingProperty']].filter((part) => part !== '').join('.')} requires a value, got none (${where})`;
  if (keyword === 'additionalProperties')
    return `${path || where} requires only fields that it knows, got ${valueText(params['additionalProperty'])} (${where})`;
  const condition = CONDITIONS[keyword]?.(params) ?? `what ${message ?? 'is valid'}`;
  return `${path || where} requires ${condition}, got ${valueText(data)} (${where})`;
}

type Limit = (params: Finding['params']) => string;
const atLeast =
  (one: string, many?: string): Limit =>
  ({ limit }) =>
    `at least ${counted(Number(limit), one, many)}`;
const atMost =
  (one: string, many?: string): Limit =>
  ({ limit }) =>
    `at most ${counted(Number(limit), one, many)}`;

const CONDITIONS: Readonly<Record<string, (params: Finding['params']) => string>> = {
  enum: ({ allowedValues }) => `one of ${(allowedValues as unknown[]).join(', ')}`,
  type: ({ type }) => TYPES[String(type)] ?? String(type),
  format: ({ format }) => (format === 'date' ? 'a date YYYY-MM-DD' : `a text of the format ${String(format)}`),
  pattern: ({ pattern }) => `a text that fits ${String(pattern)}`,
  minimum: ({ limit }) => `${String(limit)} or more`,
  maximum: ({ limit }) => `${String(limit)} or less`,
  minLength: atLeast('character'),
  maxLength: atMost('character'),
  minItems: atLeast('entry', 'entries'),
  maxItems: atMost('entry', 'entries'),
};

const TYPES: Readonly<Record<string, string>> = {
  object: 'an object',
  array: 'a list',
  string: 'a text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
};

const MOST_CHARACTERS = 60;
function valueText(value: unknown): string {
  const text = typeof value === 'string' ? value || 'nothing' : (JSON.stringify(value) ?? 'nothing');
  return text.length > MOST_CHARACTERS ? `${text.slice(0, MOST_CHARACTERS)}…` : text;
}
