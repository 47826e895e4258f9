import { sliceOf, type Channel } from '../../core/signal/stereo-signal.js';
import { buildDemoSong } from '../../demo/demo-song.js';
import type { SourceFile } from '../../protocol/song-source.js';
import { wavBytes, words16 } from '../sound-bytes/wav-bytes.js';

const SONG_S = 5;
const STEMS = ['01 Kick In.wav', '03 Drums.wav', '04 Bass DI.wav', '05 Bass Amp.wav'];

const stems = buildDemoSong().filter(({ fileName }) => STEMS.includes(fileName));
/** The demo song's first seconds, without the stems that a test of the threads can do without, as files of a browser. */
export const shortDemoFiles: SourceFile[] = stems.map(({ fileName, signal }) => {
  const { left, right, sampleRate_Hz } = sliceOf(signal, 0, SONG_S * signal.sampleRate_Hz);
  const channels: Channel[] = left === right ? [left] : [left, right];
  const words = Array.from({ length: left.length * channels.length }, (_, n) =>
    Math.round(32_000 * channels[n % channels.length]![Math.floor(n / channels.length)]!),
  );
  const bytes = wavBytes({ channels: channels.length, sampleRate_Hz }, words16(words));
  return { name: fileName, file: new File([bytes as Uint8Array<ArrayBuffer>], fileName) };
});
