import type { RenderSource } from '../core/render/render-song.js';
import { isMono, type Channel, type StereoSignal } from '../core/signal/stereo-signal.js';
import type { ChainBlock } from '../core/treatment/treatment-chain.js';
import type { TreatedRole } from '../core/treatment/treatment.js';
import { PlainError } from '../core/units/plain-error.js';
import { REST_BED, type SoundAnswer, type SoundRequest } from '../protocol/sound-request.js';

/**
 * Cuts frames out of the song for the audio thread: fresh arrays, padded with 0 past the end.
 * @throws PlainError where a file's sound is not at hand.
 */
export function answerSound(source: RenderSource, request: SoundRequest): SoundAnswer {
  const blocks = (role: TreatedRole) =>
    request.files[role].map((file) => blockOf(soundOf(source, role, file), request.from, request.to));
  return { kick: blocks('kick'), bass: blocks('bass'), rest: blocks('rest') };
}

function soundOf(source: RenderSource, role: TreatedRole, file: string): readonly StereoSignal[] {
  const tracks = source.tracks[role];
  if (role === 'rest' && file === REST_BED) {
    return source.rest === null ? tracks.map(({ signal }) => signal) : [source.rest];
  }
  const track = tracks.find((one) => one.file === file);
  if (track === undefined) {
    throw new PlainError(file, `is to be heard in the ${role}, but its sound is not at hand.`, 'Open the song again.');
  }
  return [track.signal];
}

function blockOf(signals: readonly StereoSignal[], from: number, to: number): ChainBlock {
  const left = summed(
    signals.map((signal) => signal.left),
    from,
    to,
  );
  if (signals.every(isMono)) return { left, right: left };
  return {
    left,
    right: summed(
      signals.map((signal) => signal.right),
      from,
      to,
    ),
  };
}

/** One channel stays as it is stored; several are summed in float64. */
function summed(channels: readonly Channel[], from: number, to: number): Channel {
  const [only] = channels;
  if (channels.length === 1 && only instanceof Float32Array) {
    const part = new Float32Array(to - from);
    part.set(only.subarray(from, to));
    return part;
  }
  const sum = new Float64Array(to - from);
  for (const channel of channels) {
    const end = Math.min(to, channel.length);
    for (let n = from; n < end; n++) sum[n - from] = sum[n - from]! + channel[n]!;
  }
  return sum;
}
