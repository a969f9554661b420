import type { DryRunFile } from '../../etl/loading/dry-run.ts';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { counted } from '../../etl/model/counted.ts';

const READ_BY: Record<DryRunFile['readBy'], string> = {
  columns: 'read by its own columns',
  profile: 'read by the profile',
  guess: 'read by a guess, which a load never does',
  nothing: 'could not be read',
};

/** What a dry run tells of its files, as text. */
export function dryRunText(files: readonly DryRunFile[]): string {
  const total = (count: (file: DryRunFile) => number) => files.reduce((sum, file) => sum + count(file), 0);
  const lines = [
    ...files.flatMap(fileLines),
    `${counted(
      total(({ taken }) => taken),
      'row',
    )} would be taken, ${total(({ setAside }) => setAside)} set aside, ` +
      `${counted(files.length, 'file')}; nothing was stored`,
  ];
  return `${lines.join('\n')}\n`;
}

function fileLines(file: DryRunFile): string[] {
  const kind = file.kind === null ? '' : ` as ${file.kind} (${file.shape})`;
  return [
    `${file.file}: ${READ_BY[file.readBy]}${kind}`,
    ...(file.refusal === null ? [] : [`  ${file.refusal}`]),
    ...(file.profile === null ? [] : columnLines(file)),
    ...file.questions.map((question) => `  open: ${question}`),
    ...tableLines(file),
    ...(file.readBy === 'nothing' || file.kind === null ? [] : countLines(file)),
    ...file.notes.map((note) => `  ${note}`),
    ...(file.readBy === 'guess' ? profileLines(file) : []),
  ];
}

function columnLines({ profile, rows }: DryRunFile): string[] {
  const columns = Object.entries(profile?.columns ?? {});
  return columns.map(([name, { field, unitOfMeasure, part }]) => {
    const from = unitOfMeasure === undefined ? '' : ` in ${unitOfMeasure}`;
    const half = part === undefined ? '' : ` (${part})`;
    const example = rows[0]?.fields[field];
    return `  ${name} → ${field}${half}${from}${example === undefined ? '' : `, first ${example}`}`;
  });
}

/** The first rows as a table in the contract's names. */
function tableLines({ rows }: DryRunFile): string[] {
  if (rows.length === 0) return [];
  const names = [...new Set(rows.flatMap(({ fields }) => Object.keys(fields)))].filter((name) =>
    rows.some(({ fields }) => (fields[name] ?? '') !== ''),
  );
  const cells = [
    ['line', ...names],
    ...rows.map(({ line, fields }) => [String(line), ...names.map((name) => shortened(fields[name] ?? ''))]),
  ];
  const widths = cells[0]!.map((_, column) => Math.max(...cells.map((row) => row[column]!.length)));
  return cells.map((row) => `  ${row.map((cell, column) => cell.padEnd(widths[column]!)).join('  ')}`.trimEnd());
}

const MOST_CHARACTERS = 40;
/** Texts of people may hold line ends, which would break the table. */
function shortened(cell: string): string {
  const line = cell.replaceAll(/\s+/g, ' ');
  return line.length > MOST_CHARACTERS ? `${line.slice(0, MOST_CHARACTERS - 1)}…` : line;
}

function countLines(file: DryRunFile): string[] {
  const part = file.whole ? '' : ' in the beginning of the file that was read';
  const cranks = file.cranks > 0 ? `, ${counted(file.cranks, 'crank')} found` : '';
  return [
    `  ${counted(file.taken, 'row')} would be taken, ${file.setAside} set aside${cranks}${part}`,
    ...file.reasons.map(({ reason, rows }) => `    ${rows} × ${reason}`),
    ...file.examples.map(({ line, field, value }) => `    line ${line}, ${field} ${JSON.stringify(shortened(value))}`),
    ...(file.unknownColumns.length === 0 ? [] : [`  columns kept aside: ${file.unknownColumns.join(', ')}`]),
  ];
}

/** A profile as a person would write it: a column with nothing but its field in short. */
export function profileJson(profile: ImportProfile | null): string {
  const columns = Object.entries(profile?.columns ?? {}).map(([name, column]) => [
    name,
    Object.keys(column).length === 1 ? column.field : column,
  ]);
  return JSON.stringify({ ...profile, columns: Object.fromEntries(columns) }, null, 2);
}

function profileLines({ profile }: DryRunFile): string[] {
  return [
    '  the guess as a profile: answer what is open, save it, and load with --profile FILE',
    ...profileJson(profile)
      .split('\n')
      .map((line) => `  ${line}`),
  ];
}
