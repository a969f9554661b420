import { CARRIAGE_RETURN, NEWLINE } from '../bytes/line-ends.ts';
import type { ColumnPlan } from './column-plan.ts';
import { COMMA, MAX_ROW_BYTES } from './row-window.ts';
import { byte, endUnless, fieldOf, ignored, LOCAL, pass } from './steady-fields.ts';
import { knownAt, outputAt, STOPPED_AT } from './steady-layout.ts';
import { block, br, brIf, F64, f64, get, I32, i32, inTurn, loop, moduleOf, set, when } from './wasm-code.ts';

/**
 * The machine code that reads steady rows: made for the columns of one header, so that nothing is looked up while it runs.
 * It reads row after row as `FastRows` would and stops before the first that is not as plain, or has another text or
 * another minute than is known. `run(start, end, row, capacity, line)` gives the row after the last one read; the output
 * of lines comes last.
 */
export function steadyRowsModule(plans: readonly (ColumnPlan | null)[]): WebAssembly.Module {
  let outputs = 0;
  const fields = plans.map((plan, column) => {
    const field = plan === null ? ignored() : fieldOf(plan, { known: knownAt(column), output: outputAt(outputs++) });
    return column === plans.length - 1 ? field : inTurn(field, endUnless(COMMA), pass());
  });
  return moduleOf(
    { given: [I32, I32, I32, I32, F64], locals: [I32, I32, I32, I32, I32, I32, I32, I32, F64], result: I32 },
    block(
      'end',
      loop(
        'rows',
        brIf('end', i32.ge_s(get(LOCAL.row), get(LOCAL.capacity))),
        brIf('end', i32.ge_s(get(LOCAL.start), get(LOCAL.end))),
        set(LOCAL.pos, get(LOCAL.start)),
        ...fields,
        when(i32.eq(byte(), i32.const(CARRIAGE_RETURN)), pass()),
        endUnless(NEWLINE),
        brIf('end', i32.ge_s(get(LOCAL.pos), get(LOCAL.end))),
        brIf('end', i32.gt_u(i32.sub(get(LOCAL.pos), get(LOCAL.start)), i32.const(MAX_ROW_BYTES))),
        f64.store(i32.shl(get(LOCAL.row), i32.const(3)), outputAt(outputs), get(LOCAL.line)),
        set(LOCAL.line, f64.add(get(LOCAL.line), f64.const(1))),
        set(LOCAL.row, i32.add(get(LOCAL.row), i32.const(1))),
        set(LOCAL.start, i32.add(get(LOCAL.pos), i32.const(1))),
        br('rows'),
      ),
    ),
    i32.store(i32.const(STOPPED_AT), 0, get(LOCAL.start)),
    get(LOCAL.row),
  );
}
