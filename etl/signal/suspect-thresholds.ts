/**
 * What a healthy cranking circuit reads and how far aside a fault shows, each once, with where it comes from. Volts are
 * for 12 V. "Program" marks a limit of ours.
 */
export const SUSPECT_THRESHOLDS = {
  /** A rested battery reads 11.7 V or less empty and 12.0 V at a quarter (TM 5-3805-262-20); loads take a tenth. */
  flatVolts: 11.9,
  /** At a third of its charge a hold-in drops out sooner; chatter's limit. Same table. */
  lowVolts: 12.05,
  /** Resistance of a healthy battery at 25 °C times its CCA: half of the load test's limit of 6.0 V at 20 °C (arithmetic). */
  healthyOhmsCca: 3,
  /** It doubles from +25 to −18 °C (from memory). */
  doublesPerC: 43,
  warmC: 25,
  /** Without a temperature: a mild day's, and its scatter between a summer's and a hard winter's, as a log. Program. */
  unknownColdTimes: 1.25,
  unknownColdScatter: 0.22,
  /** Worn out at 1.5 to 2 times new (from memory); the load test fails at 6.0/CCA at 20 °C (arithmetic). */
  wornTimes: 1.4,
  failsTimes: 1.85,
  /** Healthy sag ratios run from 0.5 to 1.2 (equation, TM bench values): their middle at 25 °C, scatter of its log. */
  sagRatio: 0.68,
  sagScatter: 0.25,
  /** Below 40 Hz the dip lies between the samples: so much more scatter. Program. */
  missedDipScatter: 0.2,
  /** Volts lost while a healthy warm engine turns: 12.6 V at rest, 9.6 V the limit, 10 to 11 V usual (TM 10-3930-671-24). */
  crankFallVolts: 2.3,
  crankFallScatter: 0.22,
  /** Over this share of the stalled current the fall tells little; scatter of its log that is added. Program. */
  standsShare: 0.85,
  standsScatter: 0.25,
  /** Oil stiffens: engine required 100 % at 27 °C, 155 % at 0 °C with thin oil less (training text). Per °C below 20. */
  frictionPerC: 0.006,
  frictionFromC: 20,
  /** Colder than this an engine may turn slowly with nothing wrong: 210 % at −18 °C (same). */
  coldC: 5,
  /** How much a fault must change what it changes, as a factor. Program. */
  batteryTimes: 1.35,
  loopTimes: 1.4,
  dragTimes: 1.2,
  /**
   * In squared distances: nothing wrong is as good as a fault where it is warm, and better where an engine may be cold; a
   * starter that drags is rarer than one that is worn. Program.
   */
  nothingWhenWarm: 0,
  nothingWhenCold: -1.5,
  dragPenalty: 0.3,
  /** By the engine's own earlier cranks: at least so many, the last so many; scatter of their logs. Program. */
  ownLeast: 3,
  ownMost: 60,
  ownScatter: 0.2,
  /** Own sag ratio up by this factor is a worn battery even where it still turns. Twice new, less some scatter. */
  ownWornTimes: 1.75,
  /** So many times that where no temperature is logged: it may be colder than it used to be. Program. */
  ownColdTimes: 1.15,
  /** Loop resistance by current, over the healthy battery's: sag ratio 0.5 is 2.0. */
  loopOverBattery: 1.5,
  loopScatter: 0.22,
  /** Cranking current over CCA of a healthy engine. Half of it is the load test's. Program. */
  ampsOverCca: 0.62,
  ampsScatter: 0.25,
  /** Volts that a control circuit may lose (TM 5-2420-230-24-2); what is lost only while the motor draws is the cables'. */
  controlDropVolts: 1,
  controlGoodVolts: 0.75,
  /** "Battery volts at the control terminal": at least this share of rest. Program. */
  controlLiveShare: 0.6,
  /** One cylinder at 0.72 of the others is weak (training text). */
  weakCylinder: 0.75,
  /** Chatter without earlier cranks to hold it against: between the middle of healthy sag ratios and 1.5 times it, warm. */
  chatterSag: 0.83,
  chatterCableSag: 0.4,
  /** With earlier cranks: so many times their sag ratio is more than they scatter. Program. */
  chatterOwnTimes: 1.2,
} as const;

/** Load test at half the CCA, least volts by battery temperature: the same table in four vehicle manuals. */
export const LOAD_TEST_VOLTS: readonly { fromC: number; volts: number }[] = [
  { fromC: 20, volts: 9.6 },
  { fromC: 16, volts: 9.5 },
  { fromC: 10, volts: 9.4 },
  { fromC: 4, volts: 9.3 },
  { fromC: -1, volts: 9.1 },
  { fromC: -7, volts: 8.9 },
  { fromC: -12, volts: 8.7 },
  { fromC: -Infinity, volts: 8.5 },
];
