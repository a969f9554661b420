/** What a file may hold; told by its columns, or by its shape where it has none (`can_log`) or several (`workbook`). */
export const KINDS = [
  'units',
  'components',
  'waveform',
  'cranks',
  'work_orders',
  'bench_tests',
  'codes',
  'bays',
  'shop_visits',
  'can_log',
  'workbook',
] as const;
export type Kind = (typeof KINDS)[number];
