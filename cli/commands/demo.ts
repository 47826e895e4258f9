import { join, relative } from 'node:path';
import { WavWriter } from '../../core/audio-file/write-wav.js';
import type { SongFolder } from '../../core/job/ports.js';
import { printAndProve, type PrintOutcome } from '../../core/job/print-and-prove.js';
import { treatSong, type TreatOutcome } from '../../core/job/treat-song.js';
import { isMono } from '../../core/signal/stereo-signal.js';
import { PlainError } from '../../core/units/plain-error.js';
import { buildDemoSong, DEMO_SONG_NAME, type DemoStem } from '../../demo/demo-song.js';
import { fingerprint } from '../../node/fingerprint.js';
import { makeFolder, openDiskFolder } from '../../node/disk-folder.js';
import { progressLine } from '../progress-line.js';
import type { DemoRequest } from '../requests.js';
import { EXIT, type Terminal } from '../terminal.js';
import { ByteArraySink } from '../../core/audio-file/byte-array-sink.js';
import { ByteArraySource } from '../../core/audio-file/byte-array-source.js';
import { withSongHost } from './song-host.js';
import { report } from './treat.js';

export const DEFAULT_DEMO_FOLDER = 'Keelson demo';

/** Builds the demo song, treats everything that is found, prints and proves it. */
export async function run(request: DemoRequest, terminal: Terminal): Promise<number> {
  const folder = join(request.output ?? DEFAULT_DEMO_FOLDER, DEMO_SONG_NAME);
  const progress = progressLine(terminal);
  await makeFolder(folder);
  const disk = await openDiskFolder(folder);
  const stems = buildDemoSong();
  for (const [index, stem] of stems.entries()) {
    progress.listen(`making ${stem.fileName}`, index, stems.length);
    await writeStem(disk, stem);
  }
  progress.clear();
  const done = await withSongHost(folder, terminal, async (host) => {
    const outcome = await treatSong(host, {}, { said: { accept: 'all' }, wishes: [], settings: [] });
    return { outcome, printed: await printAndProve(host, outcome, { depth: null, gain_dB: 0 }) };
  });
  report(request, done.outcome, done.printed, terminal);
  if (!request.json) terminal.out(pathsText(folder, done));
  return EXIT.fine;
}

/** Writes one stem, or leaves it where the very same bytes stand. @throws PlainError where other bytes do. */
async function writeStem(folder: SongFolder, { fileName, signal }: DemoStem): Promise<void> {
  const bytes = await stemBytes(fileName, signal);
  if ((await folder.sizeOf(fileName)) !== null) {
    const same = (await fingerprint(await folder.open(fileName))) === (await fingerprint(new ByteArraySource(bytes)));
    if (same) return;
    throw new PlainError(
      fileName,
      'A file of that name stands in the demo folder and is not the demo’s.',
      'Move it away, or choose another place: keelson demo --output <folder>.',
    );
  }
  const sink = await folder.create(fileName);
  try {
    await sink.write(bytes);
    await sink.finish();
  } catch (error) {
    await sink.abandon();
    throw error;
  }
}

async function stemBytes(name: string, signal: DemoStem['signal']): Promise<Uint8Array> {
  let bytes = new Uint8Array();
  const sink = new ByteArraySink((whole) => (bytes = new Uint8Array(whole)));
  const channels = isMono(signal) ? 1 : 2;
  const { sampleRate_Hz } = signal;
  const writer = await WavWriter.open(sink, { name, depth: '24', channels, sampleRate_Hz, ditherSeed: null });
  await writer.writeFrames(channels === 1 ? [signal.left] : [signal.left, signal.right]);
  await writer.finish();
  return bytes;
}

function pathsText(folder: string, { outcome, printed }: { outcome: TreatOutcome; printed: PrintOutcome }): string {
  const prints = join(folder, 'Keelson prints', printed.printed.version);
  return [
    `\nSources: ${relative('.', folder)}\n`,
    `Prints:  ${relative('.', prints)}\n`,
    `Session: ${relative('.', join(folder, 'keelson.json'))}\n`,
    outcome.findings.length > 0 ? `Look again: keelson inspect "${relative('.', folder)}"\n` : '',
  ].join('');
}
