import type { Reporter, TestModule } from 'vitest/node';

/** Prints `N passed, N failed, N skipped` as the last line of a run: the form that a build server reads. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const count = { passed: 0, failed: 0, skipped: 0 };
    for (const module of modules) {
      if (module.errors().length > 0) count.failed++;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state === 'passed' || state === 'failed') count[state]++;
        else count.skipped++;
      }
    }
    count.failed += errors.length;
    process.stdout.write(`\n${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped\n`);
  }
}
