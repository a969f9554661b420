import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { codeOnly, ROOT, sourceFiles, type Import, type SourceFile } from './support/source-files.ts';

const files = sourceFiles(['api', 'etl', 'web', 'sample-data']);
const imports = files.flatMap((file) => file.imports);
const own = imports.filter((each) => /^(api|etl|web|tests|sample-data)\//.test(each.to));

const top = (path: string) => path.split('/')[0]!;
const arrow = (each: Import) => `${each.from} → ${each.to}`;

/** Which top folder may import which; `types` means type-only. */
const ARROWS: Record<string, Record<string, 'all' | 'types'>> = {
  etl: { etl: 'all' },
  api: { api: 'all', etl: 'all' },
  web: { web: 'all', api: 'types' },
  'sample-data': { 'sample-data': 'all' },
};

/** Inside etl/: which stage may import which. Types cross freely from model, readers/reader.ts and store/store.ts. */
const STAGES: Record<string, readonly string[]> = {
  model: ['model'],
  stats: ['stats', 'model'],
  readers: ['readers', 'model'],
  signal: ['signal', 'stats', 'model'],
  lives: ['lives', 'stats', 'model'],
  trends: ['trends', 'stats', 'model'],
  outlook: ['outlook', 'trends', 'lives', 'stats', 'model'],
  store: ['store', 'model'],
  loading: ['loading', 'readers', 'signal', 'store', 'model'],
};

describe('imports', () => {
  it('run web → api (types only) → etl and never back', () => {
    const wrong = own.filter((each) => {
      if (each.from === 'api/commands/simulate.ts') return false;
      const allowed = ARROWS[top(each.from)]?.[top(each.to)];
      return allowed === undefined || (allowed === 'types' && !each.typeOnly);
    });
    expect(wrong.map(arrow)).toEqual([]);
  });

  it('inside etl run from the stage to what it builds on', () => {
    const stageOf = (path: string) => /^etl\/(\w+)\//.exec(path)?.[1];
    const wrong = own.filter((each) => {
      const [from, to] = [stageOf(each.from), stageOf(each.to)];
      if (from === undefined || each.typeOnly) return false;
      return to === undefined || !STAGES[from]?.includes(to);
    });
    expect(wrong.map(arrow)).toEqual([]);
  });

  it('make no circle', () => {
    expect(findCircle(files)).toEqual([]);
  });

  it('name the database only in etl/store', () => {
    const wrong = imports.filter(
      (each) => /^(drizzle|better-sqlite3)/.test(each.to) && !each.from.startsWith('etl/store/'),
    );
    expect(wrong.map(arrow)).toEqual([]);
  });

  it('let only the command line reach the sample generator', () => {
    const wrong = own.filter((each) => each.to.startsWith('sample-data/') && top(each.from) !== 'sample-data');
    expect(wrong.map((each) => each.from).filter((from) => !/^api\/(cli|commands\/simulate)\.ts$/.test(from))).toEqual(
      [],
    );
  });
});

/** Depth-first search; returns the files of the first circle found, or []. */
function findCircle(all: readonly SourceFile[]): string[] {
  const next = new Map(all.map((file) => [file.path, file.imports.map((each) => each.to)]));
  const done = new Set<string>();
  const visit = (path: string, trail: string[]): string[] => {
    if (trail.includes(path)) return [...trail.slice(trail.indexOf(path)), path];
    if (done.has(path)) return [];
    for (const target of next.get(path) ?? []) {
      const circle = visit(target, [...trail, path]);
      if (circle.length > 0) return circle;
    }
    done.add(path);
    return [];
  };
  for (const file of all) {
    const circle = visit(file.path, []);
    if (circle.length > 0) return circle;
  }
  return [];
}

describe('effects occur only at the rim', () => {
  /** Files that talk to the machine: the command line, the server, the store, the file source, the generator's writer. */
  const RIM =
    /^(api\/(cli|start|server|config)\.ts|api\/commands\/|api\/plugins\/|api\/app\.ts|api\/export\/|etl\/store\/|etl\/load|etl\/readers\/(bytes\/byte-stream|sniff)|web\/main\.ts|web\/api-client\.ts|web\/elements\/|web\/pages\/|sample-data\/)/;
  const EFFECTS: Record<string, RegExp> = {
    clock: /\bDate\.now\(|\bnew Date\(\s*\)|\bperformance\.now\(|\bDateTime\.now\(/,
    random: /\bMath\.random\(|\bcrypto\.randomUUID\(/,
    console: /\bconsole\.|\bprocess\.std(out|err)\b/,
    environment: /\bprocess\.(env|argv|exit|cwd)\b/,
  };
  for (const [name, pattern] of Object.entries(EFFECTS))
    it(name, () => {
      const wrong = files.filter((file) => !RIM.test(file.path) && pattern.test(codeOnly(file.text)));
      expect(wrong.map((file) => file.path)).toEqual([]);
    });

  it('disk', () => {
    const wrong = imports.filter((each) => each.to.startsWith('node:fs') && !RIM.test(each.from));
    expect(wrong.map(arrow)).toEqual([]);
  });

  it('no randomness but the seeded kind, anywhere', () => {
    expect(files.filter((file) => /\bMath\.random\(/.test(codeOnly(file.text))).map((file) => file.path)).toEqual([]);
  });
});

describe('the page', () => {
  const web = files.filter((file) => file.path.startsWith('web/'));

  it('asks the server only in api-client.ts, which main.ts hands the means', () => {
    const wrong = web.filter((file) => /\bfetch\b|XMLHttpRequest|EventSource|sendBeacon/.test(codeOnly(file.text)));
    expect(wrong.map((file) => file.path).sort()).toEqual(['web/api-client.ts', 'web/main.ts']);
  });

  it('never makes markup out of data', () => {
    const wrong = web.filter((file) =>
      /innerHTML|outerHTML|insertAdjacentHTML|unsafeHTML|document\.write/.test(file.text),
    );
    expect(wrong.map((file) => file.path)).toEqual([]);
  });

  it('turns numbers into text only in format.ts', () => {
    const wrong = web.filter((file) =>
      /\.toFixed\(|\.toPrecision\(|toLocale\w*String\(|new Intl\./.test(codeOnly(file.text)),
    );
    expect(wrong.map((file) => file.path)).toEqual(['web/format.ts']);
  });
});

describe('layout', () => {
  it('keeps the agreed top level', () => {
    const names = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
      cwd: ROOT,
      encoding: 'utf8',
    })
      .split('\n')
      .filter((path) => path !== '')
      .map((path) => path.split('/')[0]!);
    const agreed = [
      'README.md',
      'DEVELOPERS.md',
      'package.json',
      'tsconfig.json',
      'api',
      'web',
      'etl',
      'tests',
      'sample-data',
    ];
    const configs = ['package-lock.json', 'vite.config.ts', 'vitest.config.ts', 'drizzle.config.ts'];
    const strange = [...new Set(names)].filter(
      (name) => !name.startsWith('.') && ![...agreed, ...configs].includes(name),
    );
    expect(strange).toEqual([]);
  });

  it('keeps every source file under 400 lines', () => {
    const long = files.filter((file) => file.text.split('\n').length > 400);
    expect(long.map((file) => file.path)).toEqual([]);
  });

  it('names no file utils, helpers, common or misc', () => {
    expect(
      files.filter((file) => /(^|\/|-)(utils?|helpers?|common|misc)(\.|-|\/)/.test(file.path)).map((file) => file.path),
    ).toEqual([]);
  });

  it('leaves nothing unfinished', () => {
    const marks = files.filter((file) => /\b(TODO|FIXME|XXX|HACK)\b|not (yet )?implemented/.test(file.text));
    expect(marks.map((file) => file.path)).toEqual([]);
  });
});
