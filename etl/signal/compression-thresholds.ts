/** For reading single compressions out of a rolling phase. "Program" marks a limit of ours. */
export const COMPRESSION_THRESHOLDS = {
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
