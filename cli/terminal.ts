/** Where a command speaks: results to `out`, everything else to `err`. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Columns of the result; in a pipe a fixed width, so that a file reads the same everywhere. */
  readonly width: number;
  /** Whether a person watches `err`: only then is progress shown. */
  readonly watched: boolean;
}

const PIPE_WIDTH = 100;

/** The terminal of this process. */
export function processTerminal(): Terminal {
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    width: process.stdout.isTTY ? Math.max(60, process.stdout.columns) : PIPE_WIDTH,
    watched: process.stderr.isTTY === true,
  };
}

/** How the command ended, for scripts. */
export const EXIT = { fine: 0, findings: 1, badInput: 2, interrupted: 130 } as const;
