import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 180_000,
    // A laden machine answers late; what is waited for stays the same.
    expect: { poll: { timeout: 15_000 } },
    maxWorkers: 2,
    reporters: ['default', './tests/support/closing-line.ts'],
  },
});
