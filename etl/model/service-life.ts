import type { Component, LifeEnd } from './words.ts';

/** A component's time from fitting to removal, on one engine of one unit. */
export type ServiceLife = {
  unit: string;
  position: string;
  component: Component;
  /** Day it was fitted; null where nothing says (it was there when the log began). */
  fittedOn: string | null;
  /** `record`: a work order or the parts list says so. `assumed`: in-service date, a step in the voltage, or nothing. */
  fittedFrom: 'record' | 'assumed';
  removedOn: string | null;
  end: LifeEnd;
  /**
   * Of a failure: the last day on which the part is known to have worked, where a log shows one. It failed after that day
   * and by `removedOn`. Not kept in the store: only the fit of lives asks for it.
   */
  failedAfterOn?: string;
  /** The first day from which its survival was watched: a life counts in a fit from here on (left truncation). */
  watchedFromOn: string;
  /** Last day of the life that is known: removal, or the as-of day, or the day the unit left service. */
  watchedToOn: string;
  /** The order that ended it, else the one that began it, else ''. */
  workOrder: string;
};
