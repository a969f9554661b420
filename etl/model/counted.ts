/** `1 row`, `2 rows`: a count with its noun, whose plural is made by an s unless it is given. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
