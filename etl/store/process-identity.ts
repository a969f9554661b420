import { readFileSync } from 'node:fs';

/**
 * Names a process so that a number used again by another process is not taken for it: `<pid> <start> <boot>`, with its
 * start time in clock ticks and the machine's boot. Where there is no /proc, the number alone has to do.
 */
export function processIdentity(pid: number): string {
  return [String(pid), startTicks(pid), bootId()].join(' ');
}

/** Whether the process that once bore this identity is still at work. */
export function isAlive(identity: string): boolean {
  const pid = Number(identity.split(' ')[0]);
  if (identity === '' || !Number.isInteger(pid)) return false;
  return exists(pid) && processIdentity(pid) === identity;
}

function exists(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

/**
 * Fields 3 and 22 of /proc/<pid>/stat, counted after the name, which may itself hold spaces and brackets (proc(5)).
 * A zombie (killed, its parent has not looked yet) has no start: it is dead.
 */
function startTicks(pid: number): string {
  const stat = textOf(`/proc/${pid}/stat`);
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return fields[0] === 'Z' ? '' : (fields[19] ?? '');
}

function bootId(): string {
  return textOf('/proc/sys/kernel/random/boot_id').trim();
}

function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}
