import { EARLIEST_US } from '../kinds/column-limits.ts';
import { NEWLINE } from '../bytes/line-ends.ts';
import type { ColumnPlan } from './column-plan.ts';
import { COMMA, QUOTE } from './row-window.ts';
import { DECIMALS_OF, KNOWN, LATEST_AT, POWERS_AT } from './steady-layout.ts';
import { block, br, brIf, f64, get, i32, i64, inTurn, loop, set, when, type Code } from './wasm-code.ts';

/** Of the function that reads rows: what it is given, then its own. All integers but `line` and `value`. */
export const LOCAL = {
  start: 0,
  end: 1,
  row: 2,
  capacity: 3,
  line: 4,
  pos: 5,
  from: 6,
  length: 7,
  digit: 8,
  whole: 9,
  count: 10,
  decimals: 11,
  negative: 12,
  value: 13,
};
/** Digits whose integer fits 32 bits. */
const MOST_DIGITS = 9;
const [ZERO, DOT, MINUS, ZULU] = [48, 46, 45, 90];

/** The byte that is looked at. */
export const byte = (offset = 0) => i32.load8_u(get(LOCAL.pos), offset);
export const pass = (bytes = 1) => set(LOCAL.pos, i32.add(get(LOCAL.pos), i32.const(bytes)));
export const endUnless = (expected: number) => brIf('end', i32.ne(byte(), i32.const(expected)));
const power = (index: Code) => f64.load(i32.shl(index, i32.const(3)), POWERS_AT);

/** Where what is known of a column stands, and what is read of it. */
export type Place = { known: number; output: number };

/** Reads one field of the row into its output. */
export function fieldOf(plan: ColumnPlan, place: Place): Code {
  switch (plan.kind) {
    case 'text':
      return inTurn(
        passKnown(place.known),
        i32.store(i32.shl(get(LOCAL.row), i32.const(2)), place.output, i32.load(i32.const(place.known), KNOWN.index)),
      );
    case 'instant':
      return instant(place);
    case 'number':
      return number(plan, place);
    case 'word':
      return br('end');
  }
}

/** Passes a field that nobody reads. */
export function ignored(): Code {
  return inTurn(
    brIf('end', i32.eq(byte(), i32.const(QUOTE))),
    block(
      'field',
      loop(
        'bytes',
        brIf('field', i32.eq(byte(), i32.const(COMMA))),
        brIf('field', i32.eq(byte(), i32.const(NEWLINE))),
        pass(),
        br('bytes'),
      ),
    ),
  );
}

/** Passes the bytes that are known of the column, eight at a time; ends if others stand here, or nothing is known. */
function passKnown(known: number): Code {
  const differing = i64.xor(
    i64.load(i32.add(get(LOCAL.pos), get(LOCAL.from))),
    i64.load(get(LOCAL.from), known + KNOWN.bytes),
  );
  return inTurn(
    set(LOCAL.length, i32.load(i32.const(known), KNOWN.length)),
    brIf('end', i32.lt_s(get(LOCAL.length), i32.const(0))),
    set(LOCAL.from, i32.const(0)),
    block(
      'words',
      loop(
        'word',
        brIf('words', i32.lt_s(i32.sub(get(LOCAL.length), get(LOCAL.from)), i32.const(8))),
        brIf('end', i32.eqz(i64.eqz(differing))),
        set(LOCAL.from, i32.add(get(LOCAL.from), i32.const(8))),
        br('word'),
      ),
    ),
    brIf('end', i32.eqz(i64.eqz(i64.and(differing, i64.load(i32.const(known), KNOWN.mask))))),
    set(LOCAL.pos, i32.add(get(LOCAL.pos), get(LOCAL.length))),
  );
}

/** Adds the digits that stand here to `WHOLE`; `LENGTH` is how many. */
function digits(): Code {
  return inTurn(
    set(LOCAL.from, get(LOCAL.pos)),
    block(
      'number',
      loop(
        'digit',
        set(LOCAL.digit, i32.sub(byte(), i32.const(ZERO))),
        brIf('number', i32.gt_u(get(LOCAL.digit), i32.const(9))),
        set(LOCAL.whole, i32.add(i32.mul(get(LOCAL.whole), i32.const(10)), get(LOCAL.digit))),
        pass(),
        br('digit'),
      ),
    ),
    set(LOCAL.length, i32.sub(get(LOCAL.pos), get(LOCAL.from))),
  );
}

/** A point and its decimals, if any; `DECIMALS` is how many. */
function decimals(): Code {
  return inTurn(
    set(LOCAL.decimals, i32.const(0)),
    when(
      i32.eq(byte(), i32.const(DOT)),
      pass(),
      digits(),
      brIf('end', i32.eqz(get(LOCAL.length))),
      set(LOCAL.decimals, get(LOCAL.length)),
    ),
  );
}

/** As `FastRows` reads it: the digits as an integer, over the power of ten. */
function number({ required, limit }: ColumnPlan & { kind: 'number' }, { output }: Place): Code {
  const store = (value: Code) => f64.store(i32.shl(get(LOCAL.row), i32.const(3)), output, value);
  const missing = inTurn(
    brIf('end', i32.or(get(LOCAL.negative), i32.const(Number(required)))),
    store(f64.const(Number.NaN)),
    br('stored'),
  );
  return inTurn(
    set(LOCAL.negative, i32.eq(byte(), i32.const(MINUS))),
    set(LOCAL.pos, i32.add(get(LOCAL.pos), get(LOCAL.negative))),
    set(LOCAL.whole, i32.const(0)),
    digits(),
    set(LOCAL.count, get(LOCAL.length)),
    decimals(),
    set(LOCAL.count, i32.add(get(LOCAL.count), get(LOCAL.decimals))),
    block(
      'stored',
      when(i32.eqz(get(LOCAL.count)), missing),
      brIf('end', i32.gt_u(get(LOCAL.count), i32.const(MOST_DIGITS))),
      set(LOCAL.value, f64.div(f64.convert_i32_s(get(LOCAL.whole)), power(get(LOCAL.decimals)))),
      when(get(LOCAL.negative), set(LOCAL.value, f64.neg(get(LOCAL.value)))),
      brIf('end', i32.eqz(f64.ge(get(LOCAL.value), f64.const(limit.least)))),
      brIf('end', i32.eqz(f64.le(get(LOCAL.value), f64.const(limit.most)))),
      store(get(LOCAL.value)),
    ),
  );
}

/** Digits and decimals after what is known of the time, as one integer: so many µs, or of them so many tens. */
function instant({ known, output }: Place): Code {
  const its = (field: number) => i32.load(i32.const(known), field);
  const scale = power(i32.sub(its(KNOWN.decimals), get(LOCAL.decimals)));
  return inTurn(
    passKnown(known),
    set(LOCAL.whole, i32.const(0)),
    digits(),
    brIf('end', i32.ne(get(LOCAL.length), its(KNOWN.digits))),
    brIf('end', i32.gt_u(get(LOCAL.whole), its(KNOWN.most))),
    decimals(),
    brIf('end', i32.gt_u(get(LOCAL.decimals), its(KNOWN.decimals))),
    when(i32.eq(its(KNOWN.decimals), i32.const(DECIMALS_OF.second)), endUnless(ZULU), pass()),
    set(
      LOCAL.value,
      f64.add(f64.load(i32.const(known), KNOWN.us), f64.mul(f64.convert_i32_s(get(LOCAL.whole)), scale)),
    ),
    brIf('end', i32.eqz(f64.ge(get(LOCAL.value), f64.const(EARLIEST_US)))),
    brIf('end', i32.eqz(f64.le(get(LOCAL.value), f64.load(i32.const(LATEST_AT))))),
    f64.store(i32.shl(get(LOCAL.row), i32.const(3)), output, get(LOCAL.value)),
  );
}
