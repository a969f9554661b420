import { readFile, writeFile } from 'node:fs/promises';
import type { DryRunFile } from '../../etl/loading/dry-run.ts';
import { loadPaths, type FileReport, type LoadReport } from '../../etl/load.ts';
import type { ImportProfile } from '../../etl/model/import-profile.ts';
import { acceptingCommand } from './alias.ts';
import { answer, command, withStore, type AddCommand, type CommandContext, type CommonOptions } from './command.ts';
import { counted } from '../../etl/model/counted.ts';
import { dryRunText, profileJson } from './dry-run.ts';
import { stoppable } from './interrupts.ts';
import { defaultJobs, jobsOption } from './jobs-option.ts';
import { readingWords } from './reading-progress.ts';

/** `load PATH…`: ingests files or folders and says what was taken, set aside, waiting. */
export const addLoad: AddCommand = (program, context) => {
  const load = command('load', 'ingest files or folders: registers, work orders, cranking-voltage logs', [
    'crankledger load my-folder',
    'crankledger load units.csv logs/ --json',
    'crankledger load foreign.csv --dry-run',
    'crankledger load foreign.csv --profile yard-logger.json',
  ]);
  load.argument('<path...>', 'files or folders; the kind of a file is told by its columns');
  load.addOption(jobsOption('threads that read and search'));
  load.option('--profile <file>', 'how foreign columns, units of measure and times are to be read (JSON)');
  load.option('--dry-run', 'show how each file would be read, with a guess of the profile; store nothing');
  load.option('--profile-out <file>', 'with --dry-run: write the guessed profile of the first file that needs one');
  load.action(async (paths: string[], options: LoadCommandOptions) => {
    const profile = options.profile === undefined ? null : await profileOf(options.profile);
    if (options.dryRun === true) return dryRunCommand(paths, { ...options, chosen: profile }, context);
    if (options.profileOut !== undefined)
      throw new RangeError(`--profile-out requires --dry-run, got none (${options.profileOut})`);
    const report = await withStore(options, context, async (store) => {
      const bar = context.console.progress('reading', readingWords);
      const finishing = context.console.progress('cranks');
      try {
        return await stoppable(async (signal) =>
          loadPaths(store, paths, {
            nowUs: context.now() * 1000,
            profile,
            ...(options.jobs === undefined ? { jobs: defaultJobs() } : { jobs: options.jobs, threadsFromBytes: 0 }),
            signal,
            onProgress: ({ bytes, totalBytes }) => bar.at(bytes, totalBytes),
            onFinish: (done, total) => finishing.at(done, total),
          }),
        );
      } finally {
        bar.end();
        finishing.end();
      }
    });
    await answer(options, context, { value: report, words: reportText(report) });
    finish(report, context);
  });
  program.addCommand(load);
};

type LoadCommandOptions = CommonOptions & { jobs?: number; profile?: string; dryRun?: boolean; profileOut?: string };

async function profileOf(path: string): Promise<ImportProfile> {
  try {
    const { parseProfile } = await import('../../etl/readers/profile/parse-profile.ts');
    return parseProfile(await readFile(path, 'utf8'), path);
  } catch (error) {
    if (error instanceof RangeError) throw error;
    throw new RangeError(`--profile requires a file that can be read, got none (${path})`, { cause: error });
  }
}

type DryRunChoice = LoadCommandOptions & { chosen: ImportProfile | null };

async function dryRunCommand(paths: string[], options: DryRunChoice, context: CommandContext): Promise<void> {
  const { dryRun } = await import('../../etl/loading/dry-run.ts');
  const files = await dryRun(paths, { nowUs: context.now() * 1000, profile: options.chosen });
  if (files.length === 0) throw new RangeError('load requires at least one file, got none (PATH)');
  await answer(options, context, { value: { files }, words: dryRunText(files) });
  if (options.profileOut !== undefined) await writeGuess(files, options.profileOut, context);
  if (files.every(({ readBy }) => readBy === 'nothing'))
    throw new RangeError(`load requires a file that can be read, got ${files.length} that cannot (PATH)`);
  if (files.some(({ refusal, setAside }) => refusal !== null || setAside > 0)) context.doneInPart();
}

async function writeGuess(files: readonly DryRunFile[], path: string, { console }: CommandContext): Promise<void> {
  const guessed = files.find(({ readBy }) => readBy === 'guess');
  if (guessed === undefined) return console.note('no file needs a guess: no profile was written');
  // Never over a profile that somebody has written.
  await writeFile(path, `${profileJson(guessed.profile)}\n`, { flag: 'wx' }).catch((error: unknown) => {
    throw new RangeError(`--profile-out requires a new file, got one that is there or cannot be written (${path})`, {
      cause: error,
    });
  });
  console.note(`the guess for ${guessed.file} was written to ${path}`);
}

function finish(report: LoadReport, { console, doneInPart, interrupted }: CommandContext): void {
  if (report.interrupted) {
    const loaded = report.files.filter(({ result }) => result === 'loaded').length;
    const stored = `${counted(report.taken, 'row')} of ${counted(loaded, 'file')}`;
    console.note(`stopped: ${stored} in the store; run it again to go on`);
    interrupted();
    return;
  }
  const unreadable = report.files.filter(({ result }) => result === 'unreadable');
  if (report.files.length === 0) throw new RangeError('load requires at least one file, got none (PATH)');
  if (unreadable.length === report.files.length)
    throw new RangeError(`load requires a file that can be read, got ${unreadable.length} that cannot (PATH)`);
  if (unreadable.length > 0 || report.setAside > 0) doneInPart();
}

function reportText(report: LoadReport): string {
  const waiting = report.waiting.map(({ unit, rows }) => `${unit} (${rows})`);
  const lines = [
    ...report.files.flatMap(fileLines),
    totalLine(report),
    ...(waiting.length === 0 ? [] : [`waiting for the register, rows by unit: ${shortened(waiting)}`]),
    ...report.alike.map(
      ([unit = '', ...spellings]) =>
        `may be one unit: ${[unit, ...spellings].join(', ')}: ${acceptingCommand({ unit, spellings })}`,
    ),
  ];
  return `${lines.join('\n')}\n`;
}

/** A file that could not be read is counted as a file, not among the rows. */
function totalLine({ files, taken, setAside }: LoadReport): string {
  const unreadable = files.filter(({ result }) => result === 'unreadable');
  const rows = unreadable.reduce((sum, file) => sum - file.setAside, setAside);
  const could = unreadable.length === 0 ? '' : `, ${unreadable.length} of which could not be read`;
  return `${counted(taken, 'row')} taken, ${rows} set aside, ${counted(files.length, 'file')}${could}`;
}

const RESULTS: Record<FileReport['result'], (kind: string) => string> = {
  loaded: (kind) => `loaded${kind}`,
  already: (kind) => `already loaded${kind}, nothing changed`,
  unreadable: () => 'could not be read',
};

/** The dry run asks a guess of such a file too: where a profile reads more of it, it shows that profile. */
const MOSTLY_SET_ASIDE =
  '  more rows set aside than taken: load --dry-run shows how the file is understood, and a profile where one reads more';

/** Unless a note of the file says so already, of one whose guess says how its rows are to be read. */
function isMostlySetAside({ result, setAside, taken, notes }: FileReport): boolean {
  return result !== 'unreadable' && setAside > taken && !notes.some((note) => note.includes('--dry-run'));
}

function fileLines(file: FileReport): string[] {
  const counts = `${counted(file.taken, 'row')} taken, ${file.setAside} set aside`;
  const kind = file.kind === null ? '' : ` as ${file.kind}`;
  const cranks = file.kind === 'waveform' ? `, ${counted(file.cranks, 'crank')} found` : '';
  return [
    `${file.file}: ${RESULTS[file.result](kind)}${file.result === 'loaded' ? `: ${counts}${cranks}` : ''}`,
    ...(file.result === 'unreadable' ? [] : file.reasons.map(({ reason, rows }) => `  ${rows} × ${reason}`)),
    ...file.examples.toSorted((a, b) => a.line - b.line).map(exampleLine),
    ...(isMostlySetAside(file) ? [MOSTLY_SET_ASIDE] : []),
    ...(file.unknownColumns.length === 0 ? [] : [`  columns kept aside: ${file.unknownColumns.join(', ')}`]),
    ...file.notes.map((note) => `  ${note}`),
  ];
}

function exampleLine({ line, field, value, reason }: FileReport['examples'][number]): string {
  const cell = [field, value === '' ? '' : JSON.stringify(shortValue(value))].filter((word) => word !== '').join(' ');
  const where = [line > 0 ? `line ${line}` : '', cell].filter((word) => word !== '').join(', ');
  return `  ${where}${where === '' ? '' : ': '}${reason}`;
}

const MOST_CHARACTERS = 60;
function shortValue(value: string): string {
  return value.length > MOST_CHARACTERS ? `${value.slice(0, MOST_CHARACTERS)}…` : value;
}

const MOST_NAMED = 20;
function shortened(all: readonly string[]): string {
  const rest = all.length - MOST_NAMED;
  return all.slice(0, MOST_NAMED).join(', ') + (rest > 0 ? ` and ${rest} more` : '');
}
