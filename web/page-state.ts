/** Why there is nothing to show: nothing loaded, no date assessed, no backtest run. */
export type EmptyReason = 'no_data' | 'not_assessed' | 'not_walked';

/** What a page can be. It is drawn by `drawPage` and nowhere else, so that no state is forgotten. */
export type PageState<Data> =
  | { kind: 'loading' }
  | { kind: 'ready'; data: Data }
  | { kind: 'empty'; why: EmptyReason; storeOption: string }
  | { kind: 'failed'; problem: Problem };

/** What went wrong, in words for a person, and what to do about it. */
export type Problem = { title: string; detail: string; remedy: string };

export type PageViews<Data, View> = {
  loading: () => View;
  ready: (data: Data) => View;
  /** `storeOption`: words to add to a command so that it works on the store that is served. */
  empty: (why: EmptyReason, storeOption: string) => View;
  failed: (problem: Problem) => View;
};

export function drawPage<Data, View>(state: PageState<Data>, views: PageViews<Data, View>): View {
  switch (state.kind) {
    case 'loading':
      return views.loading();
    case 'ready':
      return views.ready(state.data);
    case 'empty':
      return views.empty(state.why, state.storeOption);
    case 'failed':
      return views.failed(state.problem);
  }
}
