/**
 * Numbers that tell what kept a start from being an ordinary one: silence, clicks, chatter, a motor that turns alone.
 * Each stands once, with where it comes from; what finds a crank at all is in `thresholds.ts`.
 *
 * Volts are for a 12 V system; a 24 V system doubles them (`× system`, 1 or 2) where the text does not say otherwise.
 * "Program" marks a limit of ours, set so that the recorded and the simulated starts in the tests come out right.
 */
export const PATTERN_THRESHOLDS = {
  /** A start is asked for at least this long before its silence means anything: relay and plunger take tens of ms. Program. */
  requestLeastSeconds: 0.25,
  /** Held longer than this it is no key but a wire: twice the 30 s that manuals allow. */
  requestMostSeconds: 60,
  /** A bouncing contact: requests so close are one. Program. */
  requestGapSeconds: 0.15,
  /** Sparse channels keep their last value for so long. Program. */
  requestHeldSeconds: 1,
  /** Control terminal over this share of battery volts: the start is asked for. A control circuit loses 1.0 V (TM 5-2420-230-24-2). */
  controlLiveShare: 0.35,
  /** What belongs to a request begins at most so long before it and so long after its end. Program. */
  requestSlackSeconds: 0.2,
  /** Levels before, during and after a request: taken over this time, kept this far from its ends. Program. */
  requestLevelSeconds: 0.6,
  requestEdgeSeconds: 0.1,
  requestRestSeconds: 0.25,
  /** A hold-in winding (heavy 24 V frames: 7 A, TM 5-2420-230-24-2) through 6 mΩ; for 12 and 24 V alike. */
  holdLeastVolts: 0.045,
  holdNoises: 4,
  /** Rounding hides less than this share of a sensor's step from a mean of many samples. Program. */
  holdSteps: 0.55,
  /** The pull-in, 60–85 A through 5 mΩ at 10 V (common bench values), seen over so long; for 12 and 24 V alike. */
  pullInVolts: 0.15,
  pullInNoises: 5,
  pullInSeconds: 0.02,

  /**
   * While the start is asked for, deeper than both windings of a solenoid: the motor's. 110 A through 8 mΩ at 25 °C,
   * doubling to −18 °C like the battery's resistance; the second where no temperature is logged. 12 and 24 V alike. Program.
   */
  motorLeastVolts: 0.9,
  motorLeastVoltsUnknown: 1.5,

  /** Chatter: the plunger drops out and pulls in 3 to 15 times a second (from memory), a little aside allowed. */
  chatterLeastHz: 2.2,
  chatterMostHz: 20,
  chatterLeastPulses: 3,
  /** Contact closed no longer than this each time; a starter that cranks between losses holds it longer. Program. */
  chatterClosedSeconds: 0.22,
  /** Neither closed nor open for less than this: the plunger takes 10 ms and more to move (from memory). */
  chatterHeldSeconds: 0.008,
  /** Each closure meets a motor at rest: it falls as deep as the deepest, ripple does not. Program. */
  chatterPulseShare: 0.62,
  chatterLowShare: 0.5,
  /** Between closures no more of the deepest fall is left than this: what both windings draw, more on a weak bank. Program. */
  chatterLeftShare: 0.42,
  /** An inrush falls to half of its depth within this. Program. */
  chatterFallSeconds: 0.015,
  /** From most of rest to this share of its pulse's depth, in so many seconds and one sample: ripple takes longer. Program. */
  chatterDeepShare: 0.85,
  chatterDeepSeconds: 0.03,
  /** A slow log meets some of the pulses: while the windings draw they are one crank; many small ones are no chance. Program. */
  chatterHoldSeconds: 1,
  chatterSlowPulses: 6,
  chatterWatchSeconds: 0.6,
  chatterMostSeconds: 60,
  /** A train of pulls without the motor: 60–85 A through 4 mΩ, more than flickering lamps. Program. */
  chatterLeastVolts: 0.24,
  chatterLeastSteps: 3,
  chatterNoises: 8,
  /** An engine that runs for so long after so few losses of contact was cranked: none chatters into a start. Program. */
  chatterRunsDropouts: 4,
  chatterRunsSeconds: 0.3,
  /** More than the flicker of a noisy or coarse sensor about one level. Program. */
  chatterSwingSteps: 2.5,
  chatterSwingNoises: 6,

  /**
   * Free spin: the no-load current, at most 90 A (common bench value at 11–11.5 V), is so little of the stalled 780–980 A;
   * of what a log shows of those it is more. An engine takes 0.36 and more (recorded). Program.
   */
  spinShare: 0.31,
  spinMostVolts: 1.6,
  /** A series-wound motor takes longer to come up: so much of the inrush may be left at first. Program. */
  spinEarlyShare: 0.4,
  spinEarlyMostVolts: 2.4,
  /** The inrush of a motor that meets no load is short, so a log shows less of it. Share of rest. Program. */
  spinInrushShare: 0.085,
  /** Where the dip falls between the samples one of them must have met so much of it; what is left is more of that. Program. */
  spinInrushShareSlow: 0.072,
  spinShareSlow: 0.36,
  spinEarlyShareSlow: 0.45,
  /** So small an inrush may be one of lamps, which then draw little of what a motor does: share of rest, key held. Program. */
  spinSurelyShare: 0.12,
  spinLeftShare: 0.014,
  /** The bare armature is up to speed after this (from memory: 0.1 s), and held at least so long. */
  spinUpSeconds: 0.15,
  spinLeastSeconds: 0.08,
  spinBackSeconds: 0.02,
  /** Contacts that part give back this share of what is missing within that time; a motor coming up needs longer. Program. */
  spinStepShare: 0.35,
  spinComesUpSeconds: 0.5,
  /** No compressions: it moves by no more than this share of the inrush, or so many times the noise. Program. */
  spinRippleShare: 0.05,
  spinRippleNoises: 3,

  /** Fewer seconds than this of a crank that the record cuts off cannot be judged: not even one compression. Program. */
  readLeastSeconds: 0.25,
  /** Samples missing for more than this share of a crank, or for so long, leave nothing to judge. Program. */
  gapMostShare: 0.6,
  gapMostSeconds: 1,

  /** Stalled: held so long, and between these seconds after onset and its second half no more than this share came back. Program. */
  stalledLeastSeconds: 0.4,
  stalledEarlySeconds: [0.03, 0.15],
  stalledGainShare: 0.05,
  /** So deep it stays: sag ratio 0.27, a loop of twice the usual resistance. Program. */
  stalledFallShare: 0.21,
  /** No heater draws so much: 60–150 A (common practice); a stalled motor at least twice that. */
  stalledLeastAmps: 280,
  /** No heater pulls so far down: 150 A through 14 mΩ at 25 °C, more in the cold; the second without a temperature. Program. */
  heaterDeepestVolts: 2.1,
  heaterDeepestUnknownVolts: 3.2,

  /**
   * Cranking current over stalled current: 1 where the motor stands still (1 − E/V_oc), healthy starts read 0.36 to 0.48
   * at 50–100 Hz (recorded); friction and battery resistance raise it in the cold. At or over it turning is slow; the
   * last where no temperature is known. Program.
   */
  slowCurrentShare: 0.65,
  slowCurrentPerC: 0.004,
  slowCurrentUnknown: 0.06,
  /**
   * Below 40 Hz the samples miss the bottom of the dip: healthy starts read 0.59 at 10 Hz (recorded). So much more, and
   * for each second between samples. Program.
   */
  missedDipShare: 0.06,
  missedDipSharePerSecond: 1.4,
  /**
   * 9.6 V while cranking divide battery from circuit at 21–27 °C (TM 10-3930-671-24 F-299); so much less for each °C of
   * cold, about what its table of volts while cranking gives. For each volt aside so much of the share, and no more. Program.
   */
  limitVolts: 9.6,
  limitVoltsPerC: 0.04,
  sharePerVolt: 0.04,
  voltsMostShare: 0.1,
  /** A sample that is a mean of its interval loses of a peak as the square of the interval, and all within this. Program. */
  smoothedDipSeconds: 0.1,
  /** An engine that fired within so long turned well enough to add so much. Program. */
  firedSoonSeconds: 1.5,
  firedSoonShare: 0.05,
  /** A speed so far over the limit is not slow whatever the volts say. Program. */
  surelyTurnsTimes: 1.25,
  /** Speeds are judged as on a mild winter's day where no temperature is known. Program. */
  unknownTempC: 5,

  /**
   * The plunger had dropped out: just before contact returns the voltage is lower by so much than it was before, between
   * the arc's end and the inrush's edge. 60 A through 2.5 mΩ; for 12 and 24 V alike. Program.
   */
  plungerLeastHz: 190,
  plungerVolts: 0.14,
  arcSeconds: 0.008,
  plungerLateSeconds: 0.016,
  inrushEdgeSeconds: 0.003,

  /** The control was gone as well for at least this share of a lost contact. Program. */
  controlGoneShare: 0.4,
} as const;
