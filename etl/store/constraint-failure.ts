/** Whether the store refused rows for what is in them (two under one key): the file's fault, not the disk's. */
export function isConstraintFailure(error: unknown): boolean {
  return error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_CONSTRAINT');
}
