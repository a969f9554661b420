import { defineConfig, type UserConfig } from 'vite';

/** Bundles web/ into .build/web, from where the server hands it out under the same origin as /api. */
const pages: UserConfig = {
  root: 'web',
  base: '/',
  publicDir: false,
  logLevel: 'warn',
  build: {
    outDir: '../.build/web',
    emptyOutDir: true,
    // Browsers that know light-dark() and @property: nothing is rewritten into older forms.
    target: ['chrome123', 'edge123', 'firefox128', 'safari17.5'],
    // The chart library is one chunk of its own that arrives after the page stands.
    chunkSizeWarningLimit: 1200,
    modulePreload: { polyfill: false },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:4680' } },
};

/**
 * Bundles the command line and the threads that it starts into .build/program: a few files in place of the six hundred
 * of the source and of drizzle, which take Node three times as long to find as all the rest of a start. All lie side
 * by side, so that `new URL('./worker.js', import.meta.url)` holds in every part.
 */
const program: UserConfig = {
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
};

export default defineConfig(({ mode }) => (mode === 'program' ? program : pages));
