import type { Finding } from '../findings/finding.js';
import type { Measurements } from '../measure/measurements.js';
import { stageRequests, type Agreed } from '../solve/stage-requests.js';
import { solveSong, type Solution } from '../solve/solve-song.js';
import { defaultTreatment } from '../treatment/paths.js';
import { withOrders, type StageOrder } from '../treatment/stage-order.js';
import type { Treatment } from '../treatment/treatment.js';
import type { Inspection } from './inspect-song.js';
import type { JobHost } from './job-host.js';
import type { OpenSong } from './open-song.js';

/** What of an inspection the path is laid on. */
export interface PathGround {
  readonly song: Pick<OpenSong, 'sampleRate_Hz' | 'stems'>;
  readonly measured: Pick<Measurements, 'known'>;
}

/** Every stage of the song's path in its place, off, in the default order or the one that was given by hand. */
export function untreated({ song, measured }: PathGround, orders: readonly StageOrder[] = []): Treatment {
  const filesOf = (role: 'kick' | 'bass' | 'rest'): string[] =>
    song.stems.filter((stem) => stem.role === role).map(({ file }) => file);
  const plain = defaultTreatment({
    sampleRate_Hz: song.sampleRate_Hz,
    notes: measured.known.notes,
    hits: measured.known.hits,
    files: { kick: filesOf('kick'), bass: filesOf('bass'), rest: filesOf('rest') },
  });
  return withOrders(plain, orders).treatment;
}

/** Finds the treatment for what was agreed; null where nothing was. A host's checkpoint may stop it: the best so far is kept. */
export async function solveInspection(
  inspection: Inspection,
  agreed: Agreed,
  { progress, checkpoint }: Pick<JobHost, 'progress' | 'checkpoint'> = {},
): Promise<Solution | null> {
  const requests = stageRequests(agreed);
  if (requests.length === 0) return null;
  const { song, measured } = inspection;
  return solveSong({
    song: { source: song.sound, known: measured.known, measured },
    base: untreated(inspection, agreed.orders),
    requests,
    ...(progress === undefined ? {} : { progress }),
    ...(checkpoint === undefined ? {} : { checkpoint }),
  });
}

/** The findings that a stage here can mend. */
export function treatable(findings: readonly Finding[]): Finding[] {
  return findings.filter(({ suggest }) => suggest.stage !== 'none');
}
