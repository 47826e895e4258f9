import { inspectSong } from '../../core/job/inspect-song.js';
import { proveSong } from '../../core/job/prove-song.js';
import { loadSession, rememberedOptions } from '../../core/job/session-store.js';
import { proofJson } from '../../core/job/treatment-json.js';
import { PlainError } from '../../core/units/plain-error.js';
import type { SongRequest } from '../requests.js';
import { EXIT, type Terminal } from '../terminal.js';
import { proofOfFilesText } from '../text/print-text.js';
import { songOptions, withSongHost } from './song-host.js';

/** Measures the newest print again from its files and lays it beside the source. */
export async function run(request: SongRequest, terminal: Terminal): Promise<number> {
  const proof = await withSongHost(request.folder, terminal, async (host) => {
    const session = await loadSession(host);
    const newest = session.versions[session.versions.length - 1];
    if (newest === undefined) {
      throw new PlainError(
        host.folder.name,
        'Nothing has been printed of this song yet.',
        'Print it first: keelson print.',
      );
    }
    const inspection = await inspectSong(host, rememberedOptions(session, songOptions(request)));
    return proveSong(host, inspection, { version: newest.name, key: newest.key, files: newest.files });
  });
  terminal.out(
    request.json ? `${JSON.stringify(proofJson(proof), null, 2)}\n` : proofOfFilesText(proof, terminal.width),
  );
  return request.strict && proof.harm.length > 0 ? EXIT.findings : EXIT.fine;
}
