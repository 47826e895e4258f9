import type { AudioFileFacts } from '../core/audio-file/audio-reader.js';
import type { JobHost } from '../core/job/job-host.js';
import { openStems, SESSION_FILE } from '../core/job/open-stems.js';
import { loadSession } from '../core/job/session-store.js';
import type { ListedSong, ListedStem } from '../protocol/job-messages.js';
import { sketchOf } from './fingerprint.js';

/** What lies in the folder, before anything is measured. @throws PlainError where it holds no sound. */
export async function listedSong(host: JobHost, writable: boolean): Promise<Omit<ListedSong, 'source'>> {
  const { stems, unreadable } = await openStems(host);
  const hasSession = (await host.folder.sizeOf(SESSION_FILE)) !== null;
  const listed: ListedStem[] = [
    ...(await Promise.all(
      stems.map(async ({ file, facts, source }) => ({
        ...{ file, format: sayFormat(facts), trouble: null },
        ...{ size_bytes: source.size, sketch: await sketchOf(source) },
      })),
    )),
    ...unreadable.map(({ file, error }) => ({
      ...{ file, format: '', trouble: `${error.reason} ${error.remedy}` },
    })),
  ];
  return {
    name: host.folder.name,
    stems: listed.sort((a, b) => (a.file < b.file ? -1 : 1)),
    session: hasSession ? await loadSession(host) : null,
    writable,
  };
}

function sayFormat({ channels, sampleRate_Hz, bitDepth }: AudioFileFacts): string {
  const sides = channels === 1 ? 'mono' : channels === 2 ? 'stereo' : `${channels} channels`;
  const depth = bitDepth.endsWith('f') ? `${bitDepth.slice(0, -1)}-bit float` : `${bitDepth}-bit`;
  return `${sides}, ${sampleRate_Hz / 1000}\u00a0kHz, ${depth}`;
}
