/** Float64 values as the bytes of a blob, little-endian as every machine that Node runs on. */

/** A view, not a copy: write it before the values change. */
export function bytesOf(values: Float64Array): Buffer {
  return Buffer.from(values.buffer, values.byteOffset, values.byteLength);
}

/** SQLite hands out blobs at any address; a Float64 view needs a multiple of eight, so an odd one is copied. */
export function float64sOf(bytes: Uint8Array): Float64Array {
  if (bytes.byteLength % 8 !== 0)
    throw new RangeError(`a column block requires a multiple of 8 bytes, got ${bytes.byteLength} (store)`);
  const aligned = bytes.byteOffset % 8 === 0 ? bytes : new Uint8Array(bytes);
  return new Float64Array(aligned.buffer, aligned.byteOffset, aligned.byteLength / 8);
}
