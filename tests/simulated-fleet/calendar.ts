const DAY_MS = 86_400_000;

export function dayOfDate(date: string): number {
  return Date.parse(`${date}T00:00:00Z`) / DAY_MS;
}

export function dateOfDay(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

export function instantOf(day: number, second: number): string {
  return new Date(day * DAY_MS + Math.round(second * 10) * 100).toISOString();
}

/** 0 Monday … 6 Sunday. */
export function weekdayOf(day: number): number {
  return (day + 3) % 7;
}
