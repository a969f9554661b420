import { describe, expect, it } from 'vitest';
import { drawPage, type PageState } from '../../web/page-state.ts';

const problem = { title: 'The server does not answer', detail: 'Nothing came back.', remedy: 'Start it again.' };
const states: [PageState<number>, string][] = [
  [{ kind: 'loading' }, 'loading'],
  [{ kind: 'ready', data: 7 }, 'ready 7'],
  [{ kind: 'empty', why: 'no_data', storeOption: '' }, 'empty no_data'],
  [{ kind: 'empty', why: 'not_assessed', storeOption: '' }, 'empty not_assessed'],
  [{ kind: 'empty', why: 'not_walked', storeOption: '' }, 'empty not_walked'],
  [{ kind: 'failed', problem }, 'failed Start it again.'],
];

describe('page state', () => {
  it.each(states)('%o is drawn by its own view alone', (state, expected) => {
    const view = drawPage(state, {
      loading: () => 'loading',
      ready: (data) => `ready ${data}`,
      empty: (why) => `empty ${why}`,
      failed: ({ remedy }) => `failed ${remedy}`,
    });
    expect(view).toBe(expected);
  });
});
