/**
 * Every number that decides what a stretch of voltage is, once, with where it comes from.
 *
 * Volts are for a 12 V system; a 24 V system doubles them (`× system`, 1 or 2). "Program" marks a limit of ours, set so
 * that the recorded and the simulated starts in the tests come out right.
 */
export const THRESHOLDS = {
  /** At rest above this a system is 24 V. No 12 V system rests, or charges, there; no 24 V bank that cranks is below. */
  system24Volts: 18,
  /** Above this the engine runs and charges: 13.8–14.7 V is common practice, a rested battery has at most 12.9 V. */
  runningVolts: 13.3,
  /** A bank that has just given current lies under what it rested at: so far over it, it is charged. Program. */
  chargedOverRestVolts: 0.25,
  /** Rest assumed only to judge depth where the record begins inside a crank; never reported. From memory. */
  typicalRestVolts: 12.3,
  /** A record that begins, for so long, under this may have begun inside a crank (cranking voltages read 8–10.6 V). Program. */
  begunBelowVolts: 11.5,
  begunLevelSeconds: 0.06,
  /** The same where the start is asked for at its first sample: an engine that fires relieves the starter. Program. */
  begunAskedBelowVolts: 12.4,
  /** A record that neither sees a crank begin nor end shows so much of it, with ripple. Program. */
  begunLeastSeconds: 0.8,

  /** A record begun by the crank itself shows the inrush within this. Program. */
  begunWatchSeconds: 0.6,
  /** A rested battery has no more: AGM 12.85 V, from memory. */
  restMostVolts: 12.9,

  /**
   * A value is written several times over if this share of at least so many changes of so much stand still at once; more
   * need not be looked at. A source slower than that answers less than ten times a second with room to spare. Program.
   */
  repeatChangeVolts: 0.3,
  repeatsLeast: 4,
  repeatsLooked: 64,
  repeatedShare: 0.9,
  repeatLongestSeconds: 0.15,

  restSeconds: 1,
  restLeastSeconds: 0.1,

  /** Smallest fall worth looking at: the hold-in winding alone draws 10–20 A through 5–10 mΩ; for 12 and 24 V alike. */
  fallVolts: 0.12,
  /** A fall from 30 ms before that is looked at closer, if the means of 20 ms fall as well: 0.1 V and more is a solenoid's. */
  lookVolts: 0.1,
  lookSeconds: 0.03,
  /** A logger's filter spreads a fall over two samples. Program. */
  lookSamples: 2,
  lookMeanVolts: 0.08,
  fallMeanSeconds: 0.02,
  fallNoises: 6,
  /** Fewer of a coarse sensor's steps may be none. Program. */
  fallSteps: 1.5,
  /** A plateau begins where so much of its depth, so many times noise and step, have fallen. Program. */
  fallBeginsShare: 0.2,
  fallBeginsNoises: 3,
  fallBeginsSteps: 0.75,
  /** An inrush is at least this deep; 100 A through 6 mΩ. Program. */
  inrushVolts: 0.6,
  /** As a share of rest: with no ripple to be seen, a fall this deep is a starter's. Lifts and blowers stay below. Program. */
  crankShare: 0.18,
  /** The same where the rate misses the dip: rolling alone takes 15–25 % of rest. Program. */
  crankShareSlow: 0.1,
  /** With no ripple either: what falls so many times as deep as it is then held, by such a share of rest, for so long. Program. */
  heldShareSlow: 0.14,
  heldLeastSeconds: 0.6,
  heldInrushTimes: 1.2,
  /** With ripple behind it a fall this deep is a crank. Program. */
  rippleShare: 0.06,
  rippledShare: 0.12,
  /** Shorter is a flicker, longer than `longestCrankSeconds` a system switched off. Program. */
  crankLeastSeconds: 0.12,
  /** A level under this share of rest is a logger that has lost its supply. Program. */
  deadShare: 0.1,
  /** From an engine that runs: only a fall this deep is a crank. Program. */
  runningShare: 0.25,
  /** A fall deeper than this share of rest is a starter even if nothing turns (stalled: sag 0.5–1.2). Program. */
  stalledShare: 0.27,
  spinUpSeconds: 0.15,
  /** An engine that has started charges within this after release. Common practice: alternators excite in 1–3 s. */
  chargesWithinSeconds: 3,
  /** Later in a crank the voltage falls no deeper, at once, than this times the inrush's depth, by so much of it, from a level. Program. */
  laterInrushShare: 1.4,
  laterInrushSteep: 0.3,
  laterInrushLevel: 0.1,
  /** No load but a starter draws so much at first: a stalled one 780–980 A, a heater 60–150 A (common bench values). */
  motorPeakAmps: 400,
  /** A turning engine moves the voltage so much about a smooth curve, in means of so long. Program. */
  restlessVolts: 0.03,
  restlessSeconds: 0.03,
  /** Rounding to a step is noise of step/√12. */
  roundingNoise: 0.289,
  /** Compression ripple in a rolling phase, above noise. Program. */
  rippleNoises: 3.5,
  rippleVolts: 0.04,
  /** Ripple repeats itself: correlation with itself one period on, with four periods; less with more. Program. */
  rippleCorrelation: 0.45,
  rippleCorrelationPerPeriod: 0.04,
  rippleCorrelationLeast: 0.27,
  /** Windows in which a changing speed is followed; so many of them must repeat, each near the one before. Program. */
  rippleWindowSeconds: 0.6,
  rippleWindowShare: 0.6,
  rippleDrift: 0.3,
  /** A shorter lag that repeats this well compared with the best one is the period. Program. */
  rippleShortest: 0.85,
  /** Half or double a period is taken instead where its tone is so much stronger. Program. */
  rippleStronger: 2,
  /** A tone so much stronger than the one taken stands against it, unless an octave apart, in octaves. Program. */
  rippleLouder: 1.5,
  rippleOctave: 0.2,
  /** An amplitude of so many of the sensor's steps. Program. */
  rippleSteps: 0.7,
  /** Rolling less than so many times as long as what may hide a compression: it may move the mean by a tenth. Program. */
  hiddenTimes: 2.5,
  /** Share of a rolling phase in which ripple is looked for again if it fades towards the end. Program. */
  rippleFadesShare: 0.75,
  /** A ripple's phase keeps to a parabola within this, cycles; its mean lies within this share of the tone. Program. */
  ripplePhaseScatter: 0.12,
  ripplePhaseDrift: 0.15,
  /** A solenoid pulls in at most so long before the inrush: tens of ms, from memory. */
  solenoidSeconds: 0.15,
  /** The inrush begins where the fall has gone this share of its depth: beyond a solenoid's step. Program. */
  inrushShare: 0.18,
  /** A solenoid's shelf takes up to this share of the depth, and lasts so long before the inrush. Program. */
  shelfShare: 0.45,
  shelfSeconds: 0.008,
  /** An inrush falls this share of its depth from one sample to the next, within so many seconds. Program. */
  steepShare: 0.04,
  steepSeconds: 0.006,
  /** The dip follows within this once half of the fall is passed: L/R some ms, contacts bounce 20 ms. Program. */
  inrushHalf: 0.5,
  inrushSeconds: 0.05,
  /** The motor stands still no longer than this after the inrush. From memory: pinion and first tooth, tens of ms. */
  stalledSeconds: 0.1,
  /** "at the latest 0.3 s after onset" begins the rolling phase. */
  rollingLatestSeconds: 0.3,
  /** Short against a compression (40 ms at 30 Hz), long against noise. Program. */
  compressionSeconds: 0.02,
  /** The slope turns by so many volts from one such stretch to the next where a compression is passed. Program. */
  compressionTurnVolts: 0.012,
  /**
   * So many compressions, each a fall that takes no less and no more than this (a slow bank sinks for longer), with so
   * much of it neither to come nor over halfway: an engine turns. One is enough that takes this share of what the motor
   * draws: no bank sinks so far under a load. Program.
   */
  compressionsLeast: 2,
  compressionLeastSeconds: 0.04,
  compressionMostSeconds: 0.8,
  compressionHalfway: 0.12,
  compressionStopsShare: 0.3,

  /** A step back up wins this share of what separates rolling from rest. Program; half on recorded starts. */
  releaseShare: 0.55,
  /** Of its inrush's fall a starter that rolls keeps up at least this share; recorded: 0.36 to 0.48 at 50–100 Hz. Program. */
  rollingLeastShare: 0.14,
  /** A record begun inside holds no inrush: of where it begins, below rest, rolling keeps up at least this share. Program. */
  rollingGoesOnShare: 0.3,
  /** The rolling level is taken anew after so long. Program. */
  levelSeconds: 0.1,
  /** A rise that falls under this share again was no release. Program. */
  lostShare: 0.4,
  /** A dropout wins at least this share of what separates rolling from rest. Program. */
  dropoutShare: 0.75,
  /** The contacts open within this time after the voltage has begun to rise. Program. */
  releaseWithinSeconds: 0.35,
  /** From pick-up to release the voltage climbs by this share of what separates rolling from rest. Program. */
  pickUpShare: 0.15,
  /** The bend explains this share of the scatter about a straight line, and the climb is so much steeper. Program. */
  pickUpGain: 0.08,
  pickUpSteeper: 2.5,
  /** A bend so soon after the first compression is none if the climb falls back by this share of its rise. Program. */
  pickUpEarlySeconds: 0.2,
  pickUpFallShare: 0.2,
  /** Looked for in so much time before release; the climb itself is shorter. Program. */
  pickUpWatchSeconds: 1.2,
  pickUpMostSeconds: 0.7,
  /** The climb's shoulder: so high between rolling and the end, for at least so long. Program. */
  shoulderShare: 0.8,
  shoulderSeconds: 0.05,
  /** A climb without compressions: none turns so many volts, or so many times the noise of a mean. Program. */
  climbTurnVolts: 0.03,
  climbTurnNoises: 4,
  /** It lasts so many times any rise or fall before it, and the last fall. Program. */
  climbTimes: 1.6,
  climbFallTimes: 2.2,
  /** The contacts part within this. Program. */
  contactSeconds: 0.01,
  /**
   * The contacts open: a jump of at least so many volts, or so many times the noise, over the line through so long a
   * stretch before it; after it the voltage stays within this share of the jump, and lacks no more of rest. Looked for
   * from so long before to so long after the voltage has come halfway back: an engine may overrun that long. Program.
   */
  stepSpanSeconds: 0.04,
  stepLeastVolts: 0.1,
  stepNoises: 5,
  stepLevelShare: 0.3,
  stepShare: 0.4,
  stepMissesShare: 0.12,
  stepBeforeSeconds: 0.05,
  overrunSeconds: 1,
  /** Contact lost for less than this is a dropout of the same crank. */
  dropoutSeconds: 0.5,
  dropoutLeastSeconds: 0.004,
  /** "no longer than 30 s" is common practice in service manuals; drivers do worse. */
  longestCrankSeconds: 90,

  /** Plateau of a heater: 60–150 A through 3–10 mΩ, for seconds (common practice); for 12 and 24 V alike. */
  heaterVolts: 0.18,
  heaterLeastSeconds: 1.5,
  heaterLongestSeconds: 60,
  /** Deeper than this is no heater (150 A through 15 mΩ). Program. */
  heaterMostVolts: 2.2,
  /** Without a crank after it: 60 A through 5 mΩ for seconds, fading by no more than this share. Program. */
  heaterAloneVolts: 0.3,
  heaterAloneSeconds: 2.5,
  heaterFade: 0.2,
  /** Glow plugs draw half of their first current after some seconds, and less (common practice). */
  glowFade: 0.6,
  plateauFades: 0.7,
  /** What is held until the starter falls in ends before its solenoid draws. Program. */
  beforeStartSeconds: 0.15,
  /** Resistive: at once as much as later, once a logger's filter has passed it. Program. */
  heaterInrushTimes: 1.1,
  /** 60 A and more of a starter's 1000 A; lamps and blowers draw less (common bench values). */
  heaterOfInrush: 0.06,
  filterSeconds: 0.02,
  /** A heater is switched off, at most this long before the crank. Program. */
  heaterBeforeSeconds: 60,
  /** A plateau's level is followed in steps of so long. Program. */
  plateauLevelSeconds: 0.4,
  /** A bank sinks by no more than this share under it. Program. */
  plateauDeepens: 0.25,
  /** Its level may be off by so much of the sensor's step. Program. */
  plateauSteps: 0.6,
  /** After a plateau at least this share of its depth has come back. Program. */
  plateauBackShare: 0.6,
  /** Solenoid without motor: 0.1 to 0.5 V; the pull-in 60–85 A through 4 mΩ, for 12 and 24 V alike. */
  solenoidLeastVolts: 0.16,
  solenoidMostVolts: 0.75,
  holdInLeastSeconds: 0.12,
  keyMostSeconds: 6,
  /**
   * Both windings for as long as the key is held (less is a relay's or a valve's), 60–110 A through 3–8 mΩ, for 12 and 24 V
   * alike; so long it is a heater if a crank follows soon, longer it is one (they run for 3 s and more) or some other load.
   * Coils settle within `coilSeconds`; what fades by more than this share is a lamp or a motor. Program.
   */
  bothWindingsVolts: 0.18,
  /**
   * Where the current says so as well: 60–85 A pull in at 12 V (common bench values), about half of that at 24 V; other
   * loads of a moment draw less.
   */
  bothWindingsVoltsByAmps: 0.1,
  bothWindingsAmps: [30, 130],
  bothWindingsSteps: 1.5,
  bothWindingsLeastSeconds: 0.5,
  bothWindingsSeconds: 1.9,
  bothWindingsMostSeconds: 2.9,
  heaterSoonSeconds: 10,
  bothWindingsFade: 0.08,
  coilSeconds: 0.012,
  /** A plateau falls from at least so many samples. Program. */
  plateauRestSamples: 3,
  /** A plateau is read over this time after its step. Program. */
  settledSeconds: 0.08,
  probeSeconds: 0.16,
  /**
   * A pull-in lasts at least so long, keeps and then loses all but this share of what it draws more; the hold-in draws so
   * much less, and at least so much. Program.
   */
  pullInLeastSeconds: 0.013,
  pullInFades: 0.25,
  pullInMostSeconds: 0.045,
  pullInMostTimes: 1.3,
  holdInVolts: 0.035,
  holdInShare: 0.75,

  /** Below this rate the dip falls between the samples. */
  dipLeastHz: 40,
  /** The dip is a mean over so long, looked for within so many half-lengths of the lowest sample. Program. */
  dipSeconds: 0.0015,
  /** Noise that a dip may keep: of some samples the lowest lies two or three times as low. Program. */
  dipNoiseVolts: 0.007,
  dipReach: 6,
  ripplePeriods: 4,
  rippleSamplesPerPeriod: 2.5,

  /**
   * A sensor at its end gives one reading for so many samples and so long, though it moves: its noise exceeds so many
   * steps, or its step is so fine that the bottom of an inrush would show several. Program.
   */
  clippedSamples: 4,
  clippedSeconds: 0.015,
  clippedNoises: 1.5,
  clippedStepVolts: 0.005,

  /** A crank so soon after the engine ran is a restart. Program: stops at lights last seconds to two minutes. */
  restartSeconds: 120,

  chargeFromSeconds: 5,
  chargeToSeconds: 15,
  /** With no charging this long after release the engine did not start. Common practice: alternators excite in 1–3 s. */
  failedAfterSeconds: 5,
  /** Idle speeds begin at 450 rpm; no starter turns an engine so fast. From memory. */
  runningRpm: 450,
  /** Controllers report a speed so much later (a recorded one by some tenths); standing for this share spoils it. Program. */
  loggedLateSeconds: 0.1,
  loggedStoodShare: 0.1,

  /** A start: cranks with at most this from one release to the next onset. */
  startGapSeconds: 60,
  /** Two loggers on one crank. */
  sameCrankSeconds: 2,

  /** Cranking speeds that can be: no start below 60 rpm, petrol 150–250, light engines to 400 (from memory). */
  crankLeastRpm: 60,
  /** An engine stood still for so long before, by its logged speed; a controller tells it so late. Program. */
  standsSeconds: 0.3,
  /** Flat batteries turn engines more slowly without starting them. Program. */
  turnsLeastRpm: 40,
  /** With more cylinders compressions overlap: an uneven one's slow beat can be louder than the ripple. Program. */
  beatCylinders: 8,
  /** Faster than starters turn (light: petrol 150–250, heavy: 100–200, from memory); a log carries most of it. */
  fastestRpm: { light: 300, heavy: 220 },
  fastestShare: 0.9,
  crankMostRpm: 400,

  /** Turned well and did not fire: 5 s; 2.5 s if it then did not run. Common practice. */
  longSeconds: 5,
  longFailedSeconds: 2.5,
} as const;

/** Volts while cranking, lower limits by battery temperature: TM 5-3895-382-24 table 29 (12 V; 24 V is the double). */
export const CRANKING_VOLTS_LEAST: readonly { fromC: number; volts12: number; volts24: number }[] = [
  { fromC: 10, volts12: 8, volts24: 16 },
  { fromC: -7, volts12: 7, volts24: 14 },
  { fromC: -Infinity, volts12: 6, volts24: 12 },
];

/**
 * Speeds below which an engine turns slowly: from memory, petrol and light diesel 150–250 rpm, heavy diesel 100–200,
 * no start below 60–100 cold; recorded: truck diesel 113–121 rpm warm, petrol 150–225. Linear between the two points.
 */
export const SLOW_RPM = {
  warmC: 20,
  coldC: -20,
  light: { warm: 110, cold: 70 },
  heavy: { warm: 88, cold: 60 },
} as const;
