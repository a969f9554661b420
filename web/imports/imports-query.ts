/** The filters of the imports as they stand in the address; '' and false are no filter. */
import type { ImportRow } from '../../api/contract/imports.ts';
import { KIND_WORDS } from '../words.ts';

export type ImportsQuery = {
  /** Part of a file's name, folder or kind. */
  search: string;
  /** Only files with rows that were set aside. */
  setAside: boolean;
};

export function readImportsQuery(search: string): ImportsQuery {
  const given = new URLSearchParams(search);
  return { search: given.get('search') ?? '', setAside: given.get('rows') === 'set-aside' };
}

export function writeImportsQuery({ search, setAside }: ImportsQuery): string {
  const given = new URLSearchParams();
  if (search !== '') given.set('search', search);
  if (setAside) given.set('rows', 'set-aside');
  return given.size === 0 ? '' : `?${given.toString()}`;
}

/** The newest first, as somebody who has just loaded a folder looks for them. */
export function importsShown(imports: readonly ImportRow[], { search, setAside }: ImportsQuery): ImportRow[] {
  const wanted = search.trim().toLowerCase();
  const fits = (row: ImportRow) =>
    `${row.file} ${kindWords(row.kind)}`.toLowerCase().includes(wanted) && (!setAside || row.setAside > 0);
  return imports.filter(fits).sort((a, b) => b.importId - a.importId);
}

export function kindWords(kind: string): string {
  return KIND_WORDS[kind] ?? kind;
}

/** `/data/oct/cranks.csv` → its name and its folder, whichever system wrote it. */
export function fileParts(file: string): { name: string; folder: string } {
  const cut = Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\'));
  return { name: file.slice(cut + 1), folder: file.slice(0, Math.max(0, cut)) };
}
