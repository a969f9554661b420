/** What was truly done to a unit, before anybody writes about it. */
export const REPAIRS = [
  'battery_replaced',
  'starter_replaced',
  'jump_start',
  'battery_charged',
  'cables_cleaned',
  'control_repaired',
  'alternator_replaced',
  'drain_traced',
  'fuel_repaired',
] as const;
export type Repair = (typeof REPAIRS)[number];

/** What the driver saw; `visit`: nobody complained, it was found at a planned visit. */
export type Complaint = 'no_start' | 'click' | 'nothing' | 'slow' | 'intermittent' | 'visit';

export type RepairFact = {
  repair: Repair;
  complaint: Complaint;
  position: string;
  day: number;
  secondOfDay: number;
  /** From opened to closed. */
  hours: number;
  roadCall: boolean;
};
