import { existsSync, lstatSync, readdirSync, renameSync, rmSync, statSync, symlinkSync } from 'node:fs';
import { basename, join } from 'node:path';
import { defineConfig, type Plugin, type UserConfig } from 'vite';

const buildFolder = join(import.meta.dirname, '.build');

/** Bundles web/ into .build/web, from where the server hands it out under the same origin as /api. */
const pages: UserConfig = {
  root: 'web',
  base: '/',
  publicDir: false,
  logLevel: 'warn',
  build: {
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
    sourcemap: true,
    rolldownOptions: {
      input: {
        cli: 'api/cli.ts',
        start: 'api/start.ts',
        worker: 'etl/loading/worker.ts',
        'assess-worker': 'etl/assess-worker.ts',
        // What the benches time: the very parts that the command line runs.
        load: 'etl/load.ts',
        'open-store': 'etl/store/open-store.ts',
      },
      output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
};

export default defineConfig(({ mode }) => {
  const [name, config] = mode === 'program' ? ['program', program] : ['web', pages];
  return { ...config, plugins: [buildBeside(name, { buildFolder, nowMs: Date.now() })] };
});

/** What runs may be some builds old; older ones go once a day has passed. Convention of this program. */
const KEPT_BUILDS = 5;
const KEPT_MS = 24 * 3600 * 1000;

/**
 * Builds into a folder of its own, `.build/builds/<name>-<time>`, and then points `.build/<name>` at it, in one step.
 * A dashboard or a load that is running goes on with the files that it began with, and nobody meets half a build.
 */
export function buildBeside(name: string, { buildFolder, nowMs }: { buildFolder: string; nowMs: number }): Plugin {
  const builds = join(buildFolder, 'builds');
  const outDir = join(builds, `${name}-${new Date(nowMs).toISOString().replaceAll(':', '.')}`);
  return {
    name: 'build-beside',
    config: () => ({ build: { outDir, emptyOutDir: true } }),
    // Not reached by a build that failed: then the former one stays.
    writeBundle() {
      pointAt(join(buildFolder, name), { target: outDir, builds });
      for (const old of buildsOf(name, builds).slice(KEPT_BUILDS))
        if (nowMs - statSync(old).mtimeMs > KEPT_MS) rmSync(old, { recursive: true, force: true });
    },
  };
}

/** Newest first: their names sort by time. */
function buildsOf(name: string, builds: string): string[] {
  const own = readdirSync(builds).filter((each) => each.startsWith(`${name}-`));
  return own
    .sort()
    .reverse()
    .map((each) => join(builds, each));
}

function pointAt(link: string, { target, builds }: { target: string; builds: string }): void {
  // A folder from before builds were set beside each other: it stays, for whatever runs from it.
  if (existsSync(link) && !lstatSync(link).isSymbolicLink()) renameSync(link, join(builds, `before-${basename(link)}`));
  const next = `${target}.link`;
  symlinkSync(target, next, 'junction');
  renameSync(next, link);
}
