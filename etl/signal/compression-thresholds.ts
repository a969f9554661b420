/** For reading single compressions out of a rolling phase. "Program" marks a limit of ours. */
export const COMPRESSION_THRESHOLDS = {
  /** The first one turns the slope by this share of how far later ones swing it, seen at so many points. Program. */
  firstTurnShare: 0.25,
  laterLeast: 12,
  /** Looked for until so long after onset. Program. */
  laterSeconds: 1.3,
  /** A last one is told by so many lows, it and up to so many before it, at most so long before release. Program. */
  lowsLeast: 3,
  lowsBefore: 3,
  climbMostSeconds: 0.5,
  /** From it on the voltage stays up for this share of a period, and gets this share of its ripple beyond it. Program. */
  staysPeriods: 0.65,
  beyondShare: 0.3,
  /** Single compressions are counted in means of at most this share of a period, to this share beyond either end. Program. */
  spanShare: 0.15,
  turnSlack: 0.15,
  /** From one to the next as long as the others and as the ripple says, within this share; at least so many. Program. */
  gapSlack: 0.4,
  gapsLeast: 2,
  /** The first within this share of a period from the beginning; fewer periods than this in all. Program. */
  beginSlack: 0.6,
  countedMost: 6,
  /** An engine all but stops where a period moves the voltage by less than this share of the usual. Program. */
  stallMoves: 0.15,
  /** Means that half a period must be long for that to be seen. */
  stallLeastMeans: 2,
  /** With more of the phase lost to dropouts no mean speed is said. Program. */
  turningLeastShare: 0.75,
  /** Fewer samples a compression do not show its height. Program. */
  samplesPerCompression: 10,
  /** Each cylinder must come round at least so often. */
  cycles: 2,
  /** Under this a weak cylinder was met twice, whatever else was. Program. */
  unevenBelow: 0.85,
  /** Averaged over this share of a period: keeps the third harmonic. Program. */
  smoothShare: 0.16,
  /** Spin-up of starters and engines takes 0.05 to 0.15 s; limits of its estimate (from memory). */
  inertiaLeastSeconds: 0.04,
  inertiaMostSeconds: 0.2,
  /** The next compression comes within this share of a period of where it is awaited. Program. */
  periodSlack: 0.35,
  periodFollows: 0.3,
  /** Compressions in a working cycle: cylinders of four-stroke engines. */
  cylinders: [3, 4, 5, 6, 8, 10, 12],
  /** Heights that scatter more than this about their cylinder's mean say nothing. Program. */
  scatterMost: 0.1,
  /** Only heights so alike are said to be equal. Program. */
  equalScatterMost: 0.08,
} as const;
