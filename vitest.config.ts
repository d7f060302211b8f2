import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    pool: 'forks',
    maxWorkers: 2,
    // A page on two busy cores may take seconds for what it does at once elsewhere.
    expect: { poll: { timeout: 30_000, interval: 100 } },
  },
});
