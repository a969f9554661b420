const MEGABYTE = 1e6;
/** The rate of the first moments says nothing. */
const SETTLED_MS = 500;

/** `123 of 500 MB, 310 MB/s, 1 s left`: bytes done of all, after so many ms. */
export function readingWords(done: number, total: number, elapsedMs: number): string {
  const bytes = `${megabytes(done)} of ${megabytes(total)} MB`;
  if (elapsedMs < SETTLED_MS || done === 0) return bytes;
  const bytesPerMs = done / elapsedMs;
  return `${bytes}, ${megabytes(bytesPerMs * 1000)} MB/s, ${timeLeft((total - done) / bytesPerMs)} left`;
}

function megabytes(bytes: number): string {
  return bytes < 10 * MEGABYTE ? (bytes / MEGABYTE).toFixed(1) : String(Math.round(bytes / MEGABYTE));
}

/** Rounded up: what is left is never nothing. */
function timeLeft(ms: number): string {
  const seconds = Math.ceil(ms / 1000);
  if (seconds < 100) return `${seconds} s`;
  const minutes = Math.ceil(seconds / 60);
  return minutes < 100 ? `${minutes} min` : `${Math.ceil(minutes / 60)} h`;
}
