/** Thrown by a route to answer with problem details (RFC 9457): what is wrong and what to do about it. */
export class ProblemError extends Error {
  override name = 'ProblemError';
  readonly status: number;
  readonly remedy: string;

  constructor(status: number, detail: string, remedy: string) {
    super(detail);
    this.status = status;
    this.remedy = remedy;
  }
}
