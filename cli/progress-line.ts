import type { ProgressListener } from '../core/job/ports.js';
import type { Terminal } from './terminal.js';

/** One line that tells how far long work has come, written over itself; nothing where nobody watches. */
export function progressLine(terminal: Terminal): { listen: ProgressListener; clear: () => void } {
  let shown = '';
  const show = (text: string) => {
    if (!terminal.watched || text === shown) return;
    terminal.err(`\r${text.padEnd(shown.length)}${text === '' ? '\r' : ''}`);
    shown = text;
  };
  return {
    listen: (what, done, total) => show(`${what} ${total > 0 ? Math.floor((100 * done) / total) : 0} %`),
    clear: () => show(''),
  };
}
