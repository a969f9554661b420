/**
 * Just enough of an assembler for WebAssembly (core specification 1.0, sections 2.4 and 5) to write one function over one
 * memory. A piece of code is a function from the labels around it to its bytes; instructions bear their standard names.
 *
 *     moduleOf({ given: [I32, I32], locals: [], result: I32 }, i32.add(get(0), get(1))) // run(a, b) → a + b
 */
export type Code = (labels: readonly string[]) => number[];

export const [I32, F64] = [0x7f, 0x7c];

export const get =
  (local: number): Code =>
  () => [0x20, ...unsigned(local)];
export const set =
  (local: number, value: Code): Code =>
  (labels) => [...value(labels), 0x21, ...unsigned(local)];
/** Passed at its end, or when it is left by `br`. */
export const block = inside(0x02);
/** Passed at its end; `br` begins it anew. */
export const loop = inside(0x03);
export const when = (condition: Code, ...body: Code[]): Code => inTurn(condition, inside(0x04)('', ...body));
export const br =
  (label: string): Code =>
  (labels) => [0x0c, ...unsigned(labels.indexOf(label))];
export const brIf =
  (label: string, condition: Code): Code =>
  (labels) => [...condition(labels), 0x0d, ...unsigned(labels.indexOf(label))];

export const i32 = {
  const:
    (value: number): Code =>
    () => [0x41, ...signed(value)],
  load: access(0x28),
  load8_u: access(0x2d),
  store: access(0x36),
  eqz: operation(0x45),
  eq: operation(0x46),
  ne: operation(0x47),
  lt_s: operation(0x48),
  gt_u: operation(0x4b),
  ge_s: operation(0x4e),
  add: operation(0x6a),
  sub: operation(0x6b),
  mul: operation(0x6c),
  or: operation(0x72),
  shl: operation(0x74),
};
export const i64 = {
  load: access(0x29),
  eqz: operation(0x50),
  ne: operation(0x52),
  and: operation(0x83),
  xor: operation(0x85),
};
export const f64 = {
  const:
    (value: number): Code =>
    () => [0x44, ...new Uint8Array(Float64Array.of(value).buffer)],
  load: access(0x2b),
  store: access(0x39),
  ge: operation(0x66),
  le: operation(0x65),
  neg: operation(0x9a),
  add: operation(0xa0),
  mul: operation(0xa2),
  div: operation(0xa3),
  convert_i32_s: operation(0xb7),
};

export function inTurn(...codes: Code[]): Code {
  return (labels) => codes.flatMap((code) => code(labels));
}

export type Signature = { given: readonly number[]; locals: readonly number[]; result: number };

/** A module that takes a memory as `env.memory` and gives a function `run`, which ends with a value on the stack. */
export function moduleOf({ given, locals, result }: Signature, ...body: Code[]): WebAssembly.Module {
  const code = [...counted(locals.map((type) => [1, type])), ...inTurn(...body)([]), END];
  const memory = [...named('env'), ...named('memory'), 0x02, 0x00, 0x01];
  const bytes = [
    ...MAGIC_AND_VERSION,
    ...section(1, counted([[0x60, ...unsigned(given.length), ...given, 1, result]])),
    ...section(2, counted([memory])),
    ...section(3, counted([[0]])),
    ...section(7, counted([[...named('run'), 0x00, 0]])),
    ...section(10, counted([[...unsigned(code.length), ...code]])),
  ];
  return new WebAssembly.Module(Uint8Array.from(bytes));
}

const MAGIC_AND_VERSION = [0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00];
const NO_RESULT = 0x40;
const END = 0x0b;

function operation(opcode: number) {
  return (...given: Code[]): Code =>
    (labels) => [...inTurn(...given)(labels), opcode];
}

/** Of memory at an address and an offset that is known beforehand; not aligned. */
function access(opcode: number) {
  return (address: Code, offset = 0, ...value: Code[]): Code =>
    (labels) => [...inTurn(address, ...value)(labels), opcode, 0, ...unsigned(offset)];
}

function inside(opcode: number) {
  return (label: string, ...body: Code[]): Code =>
    (labels) => [opcode, NO_RESULT, ...inTurn(...body)([label, ...labels]), END];
}

/** LEB128. */
function unsigned(value: number): number[] {
  return value < 128 ? [value] : [(value & 127) | 128, ...unsigned(value >>> 7)];
}

function signed(value: number): number[] {
  return value >= -64 && value < 64 ? [value & 127] : [(value & 127) | 128, ...signed(value >> 7)];
}

function counted(entries: readonly (readonly number[])[]): number[] {
  return [...unsigned(entries.length), ...entries.flat()];
}

function section(id: number, content: readonly number[]): number[] {
  return [id, ...unsigned(content.length), ...content];
}

function named(name: string): number[] {
  return [...unsigned(name.length), ...Buffer.from(name)];
}
