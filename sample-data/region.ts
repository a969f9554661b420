/**
 * The invented region: the Oldmere basin, a cool inland plain between a mild salt coast and a cold upland. Names,
 * climate and road salt are made up; no such places exist.
 */
export type Depot = {
  name: string;
  /** Mean of the year. */
  meanC: number;
  /** Half the distance from the January to the July mean. */
  seasonC: number;
  /** Half the distance from the coldest to the warmest hour of a day. */
  swingC: number;
  /** How strongly the region's cold snaps and hot spells are felt here. */
  exposure: number;
  /** Salt on the roads in frost, as a factor of the plain's. */
  salt: number;
  /** Share of visits at which the batteries are put on a tester. */
  testsBatteries: number;
  /** Days between planned visits. */
  visitDays: number;
};

export const DEPOTS: readonly Depot[] = [
  {
    name: 'Saltreach',
    meanC: 10.5,
    seasonC: 8,
    swingC: 3,
    exposure: 0.6,
    salt: 1.9,
    testsBatteries: 0.5,
    visitDays: 120,
  },
  { name: 'Oldmere', meanC: 9.5, seasonC: 11, swingC: 4.5, exposure: 1, salt: 1, testsBatteries: 0.6, visitDays: 91 },
  {
    name: 'Fennick Cross',
    meanC: 9,
    seasonC: 12,
    swingC: 5,
    exposure: 1.1,
    salt: 1,
    testsBatteries: 0.3,
    visitDays: 120,
  },
  {
    name: 'High Tarrow',
    meanC: 6.5,
    seasonC: 11,
    swingC: 5,
    exposure: 1.2,
    salt: 1.3,
    testsBatteries: 0.5,
    visitDays: 91,
  },
];
