import type { Component } from '../model/words.ts';

/** One exchange of a component on one engine. Days are day numbers since 1970. */
export type Replacement = {
  component: Component;
  position: string;
  /** Day the old one stopped serving: the day it failed, or the day of planned work. */
  removedDay: number;
  /** Day the new one was fitted. */
  fittedDay: number;
  unplanned: boolean;
  /** '' where the parts list says so, or the voltage alone. */
  workOrder: string;
  fittedFrom: 'record' | 'assumed';
};
