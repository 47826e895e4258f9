import { WavWriter } from '../core/audio-file/write-wav.js';
import { isMono, type Channel } from '../core/signal/stereo-signal.js';
import { buildDemoSong } from '../demo/demo-song.js';
import { openDiskFolder } from '../node/disk-folder.js';

export const BENCH_SONG_S = 180;
/** One stem of each kind: mono kick and bass, stereo drums and keys. */
const STEMS = ['01 Kick In.wav', '03 Drums.wav', '04 Bass DI.wav', '06 Keys.wav'];

/** What the page is held against: six minutes of six stems. */
export const LONG_SONG_S = 360;
const LONG_SONG_STEMS = [...STEMS, '02 Kick Out.wav', '05 Bass Amp.wav'];

export function writeLongSong(folder: string): Promise<void> {
  return writeSong(folder, LONG_SONG_STEMS, LONG_SONG_S);
}

/** Writes the song into a folder that stands already: the demo's stems, played again and again for three minutes, 24 bit. */
export function writeBenchSong(folder: string): Promise<void> {
  return writeSong(folder, STEMS, BENCH_SONG_S);
}

async function writeSong(folder: string, stems: readonly string[], length_s: number): Promise<void> {
  const disk = await openDiskFolder(folder);
  for (const { fileName, signal } of buildDemoSong().filter((stem) => stems.includes(stem.fileName))) {
    const { sampleRate_Hz } = signal;
    const channels = isMono(signal) ? [signal.left] : [signal.left, signal.right];
    const writer = await WavWriter.open(await disk.create(fileName), {
      name: fileName,
      depth: '24',
      channels: channels.length === 1 ? 1 : 2,
      sampleRate_Hz,
      ditherSeed: null,
    });
    await writer.writeFrames(channels.map((channel) => repeated(channel, length_s * sampleRate_Hz)));
    await writer.finish();
  }
}

function repeated(channel: Channel, frameCount: number): Float32Array {
  const whole = new Float32Array(frameCount);
  for (let at = 0; at < frameCount; at += channel.length) {
    whole.set(channel.subarray(0, Math.min(channel.length, frameCount - at)), at);
  }
  return whole;
}
