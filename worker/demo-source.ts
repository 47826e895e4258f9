import { ByteArraySink } from '../core/audio-file/byte-array-sink.js';
import { WavWriter } from '../core/audio-file/write-wav.js';
import type { ProgressListener } from '../core/job/ports.js';
import { isMono } from '../core/signal/stereo-signal.js';
import { DEMO_FINGERPRINT } from '../demo/demo-fingerprint.js';
import { buildDemoSong, DEMO_SONG_NAME, type DemoStem } from '../demo/demo-song.js';
import type { SongSource, SourceFile } from '../protocol/song-source.js';
import { KeptFiles } from './kept-files.js';

type FilesSource = Extract<SongSource, { kind: 'files' }>;

/** The demo song as WAV files: those this browser kept from the last time, else made anew and kept. */
export async function demoSource(progress?: ProgressListener): Promise<FilesSource> {
  const stems = buildDemoSong();
  const shelf = new KeptFiles('demo-song', String(DEMO_FINGERPRINT));
  const kept = await shelf.read(stems.map(({ fileName }) => fileName));
  if (kept !== null) return { kind: 'files', name: DEMO_SONG_NAME, files: kept };
  const files = await made(stems, progress);
  // kept while the song is already worked on
  void shelf.keep(files);
  return { kind: 'files', name: DEMO_SONG_NAME, files };
}

async function made(stems: readonly DemoStem[], progress?: ProgressListener): Promise<SourceFile[]> {
  const files: SourceFile[] = [];
  for (const [index, stem] of stems.entries()) {
    progress?.(`making ${stem.fileName}`, index, stems.length);
    files.push({ name: stem.fileName, file: new File([await wavBytes(stem)], stem.fileName) });
  }
  return files;
}

async function wavBytes({ fileName: name, bitDepth, signal }: DemoStem): Promise<Uint8Array<ArrayBuffer>> {
  let bytes = new Uint8Array();
  const sink = new ByteArraySink((whole) => (bytes = new Uint8Array(whole)));
  const channels = isMono(signal) ? 1 : 2;
  const { sampleRate_Hz } = signal;
  const writer = await WavWriter.open(sink, { name, depth: `${bitDepth}`, channels, sampleRate_Hz, ditherSeed: null });
  await writer.writeFrames(channels === 1 ? [signal.left] : [signal.left, signal.right]);
  await writer.finish();
  return bytes;
}
