import { findFaults, type Faults } from '../findings/find-faults.js';
import type { Finding } from '../findings/finding.js';
import { knowSong } from '../measure/know-song.js';
import { measureSong, type Measurements } from '../measure/measurements.js';
import type { JobHost } from './job-host.js';
import { openSong, type OpenSong, type SongOptions } from './open-song.js';
import { inspectionJson } from './inspection-json.js';

/** The song as it came, everything measured of it, and what was found. */
export interface Inspection {
  readonly song: OpenSong;
  readonly measured: Measurements;
  readonly faults: Faults;
}

/** Opens the song, finds its hits and notes, measures it and looks for every declared fault. */
export async function inspectSong(host: JobHost, options: SongOptions): Promise<Inspection> {
  const song = await openSong(host, options);
  host.progress?.('finding hits and notes', 0, 3);
  const known = knowSong(song.sound);
  host.progress?.('measuring', 1, 3);
  const measured = measureSong(song.sound, known);
  const withRest = { ...measured, stemLows: [...measured.stemLows, ...song.restLows] };
  host.progress?.('looking for faults', 2, 3);
  return { song, measured: withRest, faults: findFaults(withRest, song.stems) };
}

/** The published object of an inspection; `findings` may be given with what was rendered in place of the estimates. */
export function inspectionReport(
  { song, measured, faults }: Inspection,
  findings: readonly Finding[] = faults.findings,
): Record<string, unknown> {
  const { name, sampleRate_Hz, frameCount, stems, remarks } = song;
  const duration_s = frameCount / sampleRate_Hz;
  return inspectionJson({
    name,
    sampleRate_Hz,
    duration_s,
    stems,
    remarks,
    measured,
    faults: { ...faults, findings },
  });
}
