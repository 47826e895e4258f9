import { ByteArraySink } from '../core/audio-file/byte-array-sink.js';
import { WavWriter } from '../core/audio-file/write-wav.js';
import { MemoryFolder } from '../core/job/memory-folder.js';
import type { ProgressListener } from '../core/job/ports.js';
import { isMono } from '../core/signal/stereo-signal.js';
import { buildDemoSong, DEMO_SONG_NAME, type DemoStem } from '../demo/demo-song.js';

/** The demo song as a folder in memory, its stems as WAV files. */
export async function demoFolder(progress?: ProgressListener): Promise<MemoryFolder> {
  const stems = buildDemoSong();
  const files: [string, Uint8Array][] = [];
  for (const [index, stem] of stems.entries()) {
    progress?.(`making ${stem.fileName}`, index, stems.length);
    files.push([stem.fileName, await wavBytes(stem)]);
  }
  return new MemoryFolder(DEMO_SONG_NAME, files);
}

async function wavBytes({ fileName: name, bitDepth, signal }: DemoStem): Promise<Uint8Array> {
  let bytes = new Uint8Array();
  const sink = new ByteArraySink((whole) => (bytes = new Uint8Array(whole)));
  const channels = isMono(signal) ? 1 : 2;
  const { sampleRate_Hz } = signal;
  const writer = await WavWriter.open(sink, { name, depth: `${bitDepth}`, channels, sampleRate_Hz, ditherSeed: null });
  await writer.writeFrames(channels === 1 ? [signal.left] : [signal.left, signal.right]);
  await writer.finish();
  return bytes;
}
