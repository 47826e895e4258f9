import { inspectionReport, inspectSong, type Inspection } from '../../core/job/inspect-song.js';
import { loadSession, rememberedOptions, saveSession, withRoles } from '../../core/job/session-store.js';
import type { SongRequest } from '../requests.js';
import { EXIT, type Terminal } from '../terminal.js';
import { findingsText } from '../text/findings-text.js';
import { factsText } from '../text/facts-text.js';
import { measuresText } from '../text/measures-text.js';
import { songText } from '../text/song-text.js';
import { songOptions, withSongHost } from './song-host.js';

/** Measures a song and says what its low end suffers from. Writes no audio; remembers roles that were said. */
export async function run(request: SongRequest, terminal: Terminal): Promise<number> {
  const inspection = await withSongHost(request.folder, terminal, async (host) => {
    const session = await loadSession(host);
    const inspected = await inspectSong(host, rememberedOptions(session, songOptions(request)));
    if (request.roles.length > 0 || request.monoStems_dB !== null)
      await saveSession(host, await withRoles(session, inspected.song), session);
    return inspected;
  });
  terminal.out(
    request.json ? `${JSON.stringify(inspectionReport(inspection), null, 2)}\n` : text(inspection, terminal),
  );
  return request.strict && inspection.faults.findings.length > 0 ? EXIT.findings : EXIT.fine;
}

function text({ song, measured, faults }: Inspection, { width }: Terminal): string {
  return [
    songText(song.stems, width),
    factsText(song, measured, width),
    measuresText(measured, width),
    findingsText(faults, width),
  ].join('\n');
}
