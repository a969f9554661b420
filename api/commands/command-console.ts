import cliProgress from 'cli-progress';
import { once } from 'node:events';
import { terminalWords } from './terminal-words.ts';

/** Results go to stdout, everything else to stderr. */
export type CommandConsole = {
  /** Data, as they are. Waits while the reader of stdout is slow. */
  result(text: string | Uint8Array): Promise<void>;
  /** Words for a person. */
  note(text: string): void;
  /** `words`: what stands beside the bar, in place of per cent. */
  progress(label: string, words?: ProgressWords): Progress;
  isTerminal: boolean;
};
export type ProgressWords = (done: number, total: number, elapsedMs: number) => string;
export type Progress = { at(done: number, total: number): void; end(): void };

const LINE_EVERY_MS = 4000;

/** `offTerminal`: what becomes of progress where there is no terminal for a bar: nothing, or a line every few seconds. */
export function processConsole(now: () => number, offTerminal: 'nothing' | 'lines' = 'nothing'): CommandConsole {
  const { stdout, stderr } = process;
  const note = (text: string) => void stderr.write(`${terminalWords(text)}\n`);
  return {
    isTerminal: stdout.isTTY,
    async result(text) {
      if (!stdout.write(text)) await once(stdout, 'drain');
    },
    note,
    progress(label, words = percentWords) {
      if (stderr.isTTY) return barProgress(label, words, now);
      return offTerminal === 'lines' ? lineProgress(`${label}: `, { words, note, now }) : NO_PROGRESS;
    },
  };
}

const NO_PROGRESS: Progress = { at: () => undefined, end: () => undefined };

const percentWords: ProgressWords = (done, total) => `${Math.floor((100 * done) / total)} %`;

function barProgress(label: string, words: ProgressWords, now: () => number): Progress {
  const bar = new cliProgress.SingleBar({
    format: `${label} {bar} {words}`,
    stream: process.stderr,
    hideCursor: true,
  });
  const from = now();
  let started = false;
  return {
    at(done, total) {
      const payload = { words: total === 0 ? '' : words(done, total, now() - from) };
      if (started) bar.update(done, payload);
      else bar.start(total, done, payload);
      started = true;
    },
    end: () => bar.stop(),
  };
}

type Lines = { words: ProgressWords; note: (text: string) => void; now: () => number };

function lineProgress(label: string, { words, note, now }: Lines): Progress {
  const from = now();
  let last = from;
  return {
    at(done, total) {
      if (now() - last < LINE_EVERY_MS || total === 0) return;
      last = now();
      note(label + words(done, total, last - from));
    },
    end: () => undefined,
  };
}
