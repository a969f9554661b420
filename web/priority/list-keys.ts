/** Which key asks for what on the list. A key that asks for nothing there is the browser's own. */
import type { RowRequest } from '../elements/ranking-cells.ts';

export type ListAct =
  { kind: 'move'; to: number } | { kind: 'request'; request: RowRequest } | { kind: 'search' } | { kind: 'keys' };

/** `active` is the row that was chosen, −1 where none was; `onRow` whether the focus is on a row and not on its link. */
export function listAct(key: string, place: { rows: number; active: number; onRow: boolean }): ListAct | null {
  const { rows, active, onRow } = place;
  const request = (word: RowRequest): ListAct | null => (active < 0 ? null : { kind: 'request', request: word });
  switch (key) {
    case 'j':
    case 'ArrowDown':
      return { kind: 'move', to: Math.min(rows - 1, active + 1) };
    case 'k':
    case 'ArrowUp':
      return active < 0 ? null : { kind: 'move', to: Math.max(0, active - 1) };
    case 'Home':
      return { kind: 'move', to: 0 };
    case 'End':
      return { kind: 'move', to: rows - 1 };
    case 'Enter':
      // A link or button under the focus answers Enter itself.
      return onRow ? request('open') : null;
    case 'b':
      return request('book');
    case 'd':
      return request('defer');
    case 'u':
      return request('undo');
    case '/':
      return { kind: 'search' };
    case '?':
      return { kind: 'keys' };
    default:
      return null;
  }
}
