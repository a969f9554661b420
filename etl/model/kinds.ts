/** What a file may hold; told by its columns. */
export const KINDS = ['units', 'components', 'waveform', 'cranks', 'work_orders'] as const;
export type Kind = (typeof KINDS)[number];
