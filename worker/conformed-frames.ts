import type { AudioReader } from '../core/audio-file/audio-reader.js';
import { SpanResampler } from '../core/dsp/span-resampler.js';
import { isMono, type Channel, type StereoSignal } from '../core/signal/stereo-signal.js';

/** How a file stands in its song: the song's rate and length, where the file begins, and its gain. */
export interface PlaceInSong {
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  readonly start: number;
  readonly gain: number;
}

/** Frames of one file as the conformed song holds them (`conformedStem`), to the last bit, without reading the rest of the file. */
export class ConformedFrames {
  private readonly resampler: SpanResampler | null;
  /** Length of the file at the song's rate. */
  private readonly length: number;

  constructor(
    private readonly reader: AudioReader,
    private readonly place: PlaceInSong,
  ) {
    const { sampleRate_Hz, frameCount } = reader.facts;
    this.resampler =
      sampleRate_Hz === place.sampleRate_Hz ? null : new SpanResampler(sampleRate_Hz, place.sampleRate_Hz);
    this.length = this.resampler?.lengthOf(frameCount) ?? frameCount;
  }

  /** Fresh arrays for song frames `from..to`, 0 outside the file and the song. Mono stays one array. */
  async read(from: number, to: number): Promise<StereoSignal> {
    const { start, gain, sampleRate_Hz, frameCount } = this.place;
    const first = Math.max(from, start);
    const end = Math.min(to, start + this.length, frameCount);
    const sound = await this.atSongRate(first - start, Math.max(0, end - first));
    const left = placedChannel(sound.left, first - from, to - from, gain);
    const right = isMono(sound) ? left : placedChannel(sound.right, first - from, to - from, gain);
    return { left, right, sampleRate_Hz };
  }

  private async atSongRate(first: number, count: number): Promise<StereoSignal> {
    const { resampler } = this;
    if (resampler === null || count === 0) return this.fromFile(first, count);
    const span = resampler.spanOf(first, count);
    const from = Math.max(0, span.from);
    const inside = await this.fromFile(from, Math.min(span.to, this.reader.facts.frameCount) - from);
    const converted = (channel: Channel): Channel => {
      const input = new Float64Array(span.to - span.from);
      input.set(channel, from - span.from);
      return resampler.outputs(input, first, count);
    };
    const left = converted(inside.left);
    return { ...inside, left, right: isMono(inside) ? left : converted(inside.right) };
  }

  private async fromFile(from: number, count: number): Promise<StereoSignal> {
    const channels = await this.reader.readFrames(from, Math.max(0, count));
    const left = channels[0]!;
    return { left, right: channels[1] ?? left, sampleRate_Hz: this.reader.facts.sampleRate_Hz };
  }
}

/** The channel `at` samples into so many; a gain other than 1 makes it Float64, as it does in the song. */
function placedChannel(channel: Channel, at: number, length: number, gain: number): Channel {
  if (at === 0 && channel.length === length && gain === 1) return channel;
  const exact = channel instanceof Float64Array || gain !== 1;
  const output = exact ? new Float64Array(length) : new Float32Array(length);
  if (channel.length === 0) return output;
  if (gain === 1) output.set(channel, at);
  else for (let n = 0; n < channel.length; n++) output[at + n] = gain * channel[n]!;
  return output;
}
