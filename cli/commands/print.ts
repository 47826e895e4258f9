import { printAndProve } from '../../core/job/print-and-prove.js';
import { mayPrint, treatSong } from '../../core/job/treat-song.js';
import { PlainError } from '../../core/units/plain-error.js';
import type { PrintRequest } from '../requests.js';
import { EXIT, type Terminal } from '../terminal.js';
import { songOptions, withSongHost } from './song-host.js';
import { choicesOf, falls, report } from './treat.js';

/** Prints what the session says was agreed to, and proves it. */
export async function run(request: PrintRequest, terminal: Terminal): Promise<number> {
  const { outcome, printed } = await withSongHost(request.folder, terminal, async (host) => {
    const treated = await treatSong(host, songOptions(request), { said: {}, wishes: [], settings: [] });
    if (!mayPrint(treated)) {
      throw new PlainError(
        host.folder.name,
        'Nothing has been agreed to yet, so there is nothing to print.',
        'See what was found and agree to it: keelson treat.',
      );
    }
    return { outcome: treated, printed: await printAndProve(host, treated, choicesOf(request, treated)) };
  });
  report(request, outcome, printed, terminal);
  return request.strict && falls(outcome, printed) ? EXIT.findings : EXIT.fine;
}
