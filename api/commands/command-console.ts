import cliProgress from 'cli-progress';
import { once } from 'node:events';

/** Results go to stdout, everything else to stderr; bars only on a terminal, a plain line every few seconds without. */
export type CommandConsole = {
  /** Waits while the reader of stdout is slow. */
  result(text: string | Uint8Array): Promise<void>;
  note(text: string): void;
  progress(label: string): Progress;
  isTerminal: boolean;
};
export type Progress = { at(done: number, total: number): void; end(): void };

const LINE_EVERY_MS = 4000;

export function processConsole(now: () => number): CommandConsole {
  const { stdout, stderr } = process;
  const note = (text: string) => void stderr.write(`${text}\n`);
  return {
    isTerminal: stdout.isTTY,
    async result(text) {
      if (!stdout.write(text)) await once(stdout, 'drain');
    },
    note,
    progress: (label) => (stderr.isTTY ? barProgress(label) : lineProgress(label, note, now)),
  };
}

function barProgress(label: string): Progress {
  const bar = new cliProgress.SingleBar({
    format: `${label} {bar} {percentage} %`,
    stream: process.stderr,
    hideCursor: true,
  });
  let started = false;
  return {
    at(done, total) {
      if (!started) bar.start(total, done);
      else bar.update(done);
      started = true;
    },
    end: () => bar.stop(),
  };
}

function lineProgress(label: string, note: (text: string) => void, now: () => number): Progress {
  let last = now();
  return {
    at(done, total) {
      if (now() - last < LINE_EVERY_MS || total === 0) return;
      last = now();
      note(`${label}: ${Math.floor((100 * done) / total)} %`);
    },
    end: () => undefined,
  };
}
