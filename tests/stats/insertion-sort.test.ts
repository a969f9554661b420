import { expect, it } from 'vitest';
import { insertionSort } from '../../etl/stats/insertion-sort.ts';
import { createRandom } from '../../etl/stats/random.ts';

it('sorts the first values as the built-in sort does, and leaves the others', () => {
  const random = createRandom(5);
  for (let count = 0; count <= 40; count++) {
    const values = Float64Array.from({ length: 40 }, () => Math.round(10 * random.uniform()) - 5);
    const expected = [...values.slice(0, count).sort(), ...values.slice(count)];
    insertionSort(values, count);
    expect([...values]).toEqual(expected);
  }
});
