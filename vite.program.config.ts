import { defineConfig } from 'vite';

/**
 * Bundles the command line and the threads that it starts into .build/program: a few files in place of the six hundred
 * of the source and of drizzle, which take Node three times as long to find as all the rest of a start. All lie side
 * by side, so that `new URL('./worker.js', import.meta.url)` holds in every part.
 */
export default defineConfig({
  publicDir: false,
  logLevel: 'warn',
  ssr: { noExternal: ['drizzle-orm'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: '.build/program',
    emptyOutDir: true,
    sourcemap: true,
    rolldownOptions: {
      input: {
        cli: 'api/cli.ts',
        start: 'api/start.ts',
        worker: 'etl/loading/worker.ts',
        'assess-worker': 'etl/assess-worker.ts',
      },
      output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
});
