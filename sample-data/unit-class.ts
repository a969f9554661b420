/** The kinds of vehicles in the invented fleet. Electrical figures are for the unit's own system voltage. */
export type UnitClass = {
  name: string;
  /** Letter before the unit number. */
  prefix: string;
  /** Share of the fleet. */
  share: number;
  systemVolts: 12 | 24;
  batteryCount: number;
  /** Of the bank, A. */
  batteryCcaA: number;
  /** Of the bank, Ah. */
  capacityAh: number;
  agm: boolean;
  cylinders: number;
  fuel: 'diesel' | 'petrol' | 'gas';
  positions: readonly string[];
  starterRatedKw: number;
  /** Cranking speed of a new set at 25 °C. */
  warmRpm: number;
  /** Crank current of a new set at 25 °C over its stall current. */
  dragShare: number;
  /** Seconds of cranking of a warm engine until it fires. */
  fireSeconds: number;
  startsPerDay: number;
  workdays: 5 | 6 | 7;
  /** First start of the day, hour. */
  firstHour: number;
  workHours: number;
  /** Starts for which a median starter's brushes are good. */
  starterStarts: number;
  /** Days at 20 °C of a median battery. */
  batteryDays: number;
  /** Battery warmer than the air on a working day, K. */
  compartmentC: number;
  kmPerDay: number;
};

export const UNIT_CLASSES: readonly UnitClass[] = [
  {
    name: 'delivery van',
    prefix: 'V',
    share: 0.3,
    systemVolts: 12,
    batteryCount: 1,
    batteryCcaA: 760,
    capacityAh: 80,
    agm: false,
    cylinders: 4,
    fuel: 'diesel',
    positions: [''],
    starterRatedKw: 2,
    warmRpm: 230,
    dragShare: 0.32,
    fireSeconds: 0.55,
    startsPerDay: 9,
    workdays: 6,
    firstHour: 5.8,
    workHours: 10,
    starterStarts: 20900,
    batteryDays: 1500,
    compartmentC: 13,
    kmPerDay: 140,
  },
  {
    name: 'service pickup',
    prefix: 'P',
    share: 0.15,
    systemVolts: 12,
    batteryCount: 1,
    batteryCcaA: 700,
    capacityAh: 70,
    agm: true,
    cylinders: 6,
    fuel: 'petrol',
    positions: [''],
    starterRatedKw: 1.6,
    warmRpm: 200,
    dragShare: 0.36,
    fireSeconds: 0.5,
    startsPerDay: 6,
    workdays: 5,
    firstHour: 6.5,
    workHours: 9,
    starterStarts: 10400,
    batteryDays: 1630,
    compartmentC: 14,
    kmPerDay: 90,
  },
  {
    name: 'tractor truck',
    prefix: 'T',
    share: 0.23,
    systemVolts: 24,
    batteryCount: 2,
    batteryCcaA: 1000,
    capacityAh: 180,
    agm: false,
    cylinders: 6,
    fuel: 'diesel',
    positions: [''],
    starterRatedKw: 5.5,
    warmRpm: 130,
    dragShare: 0.34,
    fireSeconds: 0.8,
    startsPerDay: 5,
    workdays: 6,
    firstHour: 4.5,
    workHours: 11,
    starterStarts: 10400,
    batteryDays: 1300,
    compartmentC: 8,
    kmPerDay: 420,
  },
  {
    name: 'city bus',
    prefix: 'B',
    share: 0.15,
    systemVolts: 24,
    batteryCount: 2,
    batteryCcaA: 1150,
    capacityAh: 225,
    agm: false,
    cylinders: 6,
    fuel: 'gas',
    positions: [''],
    starterRatedKw: 5,
    warmRpm: 140,
    dragShare: 0.33,
    fireSeconds: 0.9,
    startsPerDay: 4.5,
    workdays: 7,
    firstHour: 4.2,
    workHours: 15,
    starterStarts: 11000,
    batteryDays: 1340,
    compartmentC: 14,
    kmPerDay: 210,
  },
  {
    name: 'wheel loader',
    prefix: 'L',
    share: 0.12,
    systemVolts: 24,
    batteryCount: 2,
    batteryCcaA: 950,
    capacityAh: 170,
    agm: false,
    cylinders: 6,
    fuel: 'diesel',
    positions: [''],
    starterRatedKw: 7,
    warmRpm: 125,
    dragShare: 0.35,
    fireSeconds: 0.9,
    startsPerDay: 3.5,
    workdays: 5,
    firstHour: 6,
    workHours: 9,
    starterStarts: 5700,
    batteryDays: 1400,
    compartmentC: 10,
    kmPerDay: 8,
  },
  {
    name: 'twin-engine crane',
    prefix: 'C',
    share: 0.05,
    systemVolts: 24,
    batteryCount: 2,
    batteryCcaA: 900,
    capacityAh: 160,
    agm: false,
    cylinders: 6,
    fuel: 'diesel',
    positions: ['front', 'rear'],
    starterRatedKw: 5.5,
    warmRpm: 130,
    dragShare: 0.34,
    fireSeconds: 0.85,
    startsPerDay: 2.4,
    workdays: 5,
    firstHour: 6.5,
    workHours: 8,
    starterStarts: 4000,
    batteryDays: 1400,
    compartmentC: 7,
    kmPerDay: 25,
  },
];
