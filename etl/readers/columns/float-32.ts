/** 10 to these powers: loggers write volts and amperes with two, four or at most six decimals (common practice). */
const SCALES = [1e2, 1e4, 1e6];

/**
 * Numbers of 32 bits as the decimal numbers that they were made of: 12.345 is stored as 12.3450002670288…, and a CSV
 * file of the same log has 12.345. The first decimal that is stored as the same 32 bits is taken; where there is none
 * the stored number stays as it is.
 */
export function decimalsOfFloats(floats: Float32Array | Float64Array): Float64Array {
  return Float64Array.from(floats, decimalOfFloat);
}

export function decimalOfFloat(float: number): number {
  for (const scale of SCALES) {
    const decimal = Math.round(float * scale) / scale;
    if (Math.fround(decimal) === float) return decimal;
  }
  return float;
}
