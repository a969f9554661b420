/** One line for whatever went wrong: our own errors say it themselves; the system's codes are put in words. */
export function failureWords(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const { code, path } = error as NodeJS.ErrnoException;
  const words = code === undefined ? undefined : SYSTEM_WORDS[code];
  const line = words === undefined ? error.message : `${words} (${path ?? error.message})`;
  return line.split('\n')[0]!;
}

const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  EACCES: 'access requires permission, got none: ask the owner of the file or folder',
  EPERM: 'access requires permission, got none: ask the owner of the file or folder',
  ENOENT: 'path requires a file or folder that exists, got nothing there',
  ENOSPC: 'writing requires room on the disk, got none: free some and run it again',
  EROFS: 'writing requires a disk that can be written to, got a read-only one',
  EISDIR: 'path requires a file, got a folder',
  ENOTDIR: 'path requires a folder on the way, got a file',
};
