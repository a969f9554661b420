import type { Component } from './words.ts';

/** A part known to be fitted (kind `components`). */
export type FittedPart = {
  unit: string;
  component: Component;
  position: string;
  fittedOn: string;
  part: string | null;
  rating: string | null;
  warrantyUntilOn: string | null;
  costMinor: number | null;
  enteredUs: number | null;
};
