import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The project's own source as text, for the tests that hold its structure and its documents to their word. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

export type Import = { from: string; to: string; typeOnly: boolean };
export type SourceFile = { path: string; text: string; imports: Import[] };

const IMPORT = /^(?:import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?'([^']+)';?/gm;
const DYNAMIC = /\bimport\(\s*'([^']+)'\s*\)/g;

export function sourceFiles(folders: readonly string[]): SourceFile[] {
  return folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
      .map((entry) => readSource(relative(ROOT, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))),
  );
}

function readSource(path: string): SourceFile {
  const text = readFileSync(join(ROOT, path), 'utf8');
  const fixed = [...text.matchAll(IMPORT)].map((m) => ({ typeOnly: m[1] !== undefined, target: m[2]! }));
  const lazy = [...text.matchAll(DYNAMIC)].map((m) => ({ typeOnly: false, target: m[1]! }));
  const imports = [...fixed, ...lazy].map(({ typeOnly, target }) => ({
    from: path,
    to: target.startsWith('.') ? posix.normalize(posix.join(dirname(path), target)) : target,
    typeOnly,
  }));
  return { path, text, imports };
}

/** Text without comments and without the contents of strings, for looking up calls. */
export function codeOnly(text: string): string {
  return text
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/(^|[^:'"`])\/\/.*$/gm, '$1')
    .replace(/'(?:[^'\\\n]|\\.)*'/g, "''");
}
