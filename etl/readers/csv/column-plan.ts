import type { Limit } from '../kinds/column-limits.ts';

/** What a column of the file holds and where its values go. */
export type ColumnPlan =
  | { field: string; required: boolean; kind: 'text'; into: Int32Array; emptyAllowed: boolean }
  | { field: string; required: boolean; kind: 'instant'; into: Float64Array }
  | { field: string; required: boolean; kind: 'number'; into: Float64Array; limit: Limit }
  | { field: string; required: boolean; kind: 'word'; into: Float64Array; words: readonly string[] };
