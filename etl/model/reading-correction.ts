import type { Component, RepairEvent } from './words.ts';

/** One row of how a person reads a repair record. */
export type CorrectedReading = {
  /** `none` with `no_start` or `unrelated` alone. */
  component: Component | 'none';
  event: RepairEvent;
  unplanned: boolean;
  position: string;
};

/**
 * A person's correction of how a record was read: it replaces all rows that the program made of it, and holds for every
 * as-of at which the record was known. A newer one, or taking it back, withdraws it; it stays with that instant.
 */
export type ReadingCorrection = {
  correctionId: number;
  unit: string;
  workOrder: string;
  readings: CorrectedReading[];
  createdUs: number;
  withdrawnUs: number | null;
};
