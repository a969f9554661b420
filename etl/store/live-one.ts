/**
 * Whether a row's import is live, asked of each row: where few rows are looked at. A list of all live imports would be
 * made anew by each query, and a fleet of small daily files has thousands.
 */
export const isLiveOne = (table: string) =>
  `exists (select 1 from imports where imports.import_id = ${table}.import_id and imports.state = 'live')`;
