import { defineConfig } from 'vite';

/** Bundles web/ into .build/web, from where the server hands it out under the same origin as /api. */
export default defineConfig({
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
});
