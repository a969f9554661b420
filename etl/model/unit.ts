/** A vehicle of the fleet as its register gives it. `unit` is text, kept as written: never a path, never markup. */
export type Unit = {
  unit: string;
  depot: string;
  class: string;
  systemVolts: 12 | 24;
  batteryCount: number;
  /** Cold cranking amps of the whole bank. */
  batteryCcaA: number;
  cylinders: number;
  fuel: 'petrol' | 'diesel' | 'gas' | 'hybrid' | null;
  vin: string | null;
  inServiceOn: string | null;
  outOfServiceOn: string | null;
  nextPmOn: string | null;
  pmIntervalDays: number | null;
  startsPerDay: number | null;
  starterRatedKw: number | null;
  costCentre: string | null;
  /** When this row was entered, if the register says so (optional column `entered`); decides between two rows. */
  enteredUs: number | null;
};

/** One engine or bank of a unit. `position` is '' where a unit has one. Everything that is measured belongs to one. */
export type Engine = { engineId: number; unit: string; position: string };
