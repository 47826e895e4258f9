import { percentile } from '../core/units/statistics.js';
import { busyDemoTreatment, demoPiece } from '../tests/browser/demo-piece.js';
import type { ToEngine } from '../protocol/engine-messages.js';
import { LiveEngine } from '../worklet/live-engine.js';

/** Processor time of a block of 128 frames, as percent of the time it plays. */
export interface BlockCost {
  readonly mean: number;
  readonly p50: number;
  readonly p95: number;
  readonly p99: number;
  readonly max: number;
}

export interface LiveBlockCost {
  /** The song from one end to the other. */
  readonly song: BlockCost;
  /** One beat of it, round and round; the jump to it too. */
  readonly loop: BlockCost;
}

const BLOCK_FRAMES = 128;
/** The same blocks are run this often, and the least of what each took counts: compiling and collecting only ever add. */
const PASSES = 7;
const BEAT_S = 0.5;

/** Every stage on, the demo piece, its bass in stereo; the engine warm. */
export function liveBlockCost(sampleRate_Hz: number): LiveBlockCost {
  const blockCount = Math.floor(demoPiece(sampleRate_Hz).frameCount / BLOCK_FRAMES) - 100;
  const beat = { from: Math.round(sampleRate_Hz), to: Math.round((1 + BEAT_S) * sampleRate_Hz) };
  return {
    song: leastCost(sampleRate_Hz, blockCount, []),
    loop: leastCost(sampleRate_Hz, blockCount, [{ kind: 'loop', loop: beat }]),
  };
}

function leastCost(sampleRate_Hz: number, blockCount: number, messages: readonly ToEngine[]): BlockCost {
  const outputs = Array.from({ length: 8 }, () => [new Float32Array(BLOCK_FRAMES), new Float32Array(BLOCK_FRAMES)]);
  const least_s = new Float64Array(blockCount).fill(Infinity);
  for (let pass = 0; pass < PASSES; pass++) {
    const engine = playing(sampleRate_Hz, outputs, messages);
    for (let block = 0; block < blockCount; block++) {
      const begin = process.cpuUsage();
      engine.process(outputs, BLOCK_FRAMES);
      const { user, system } = process.cpuUsage(begin);
      least_s[block] = Math.min(least_s[block]!, (user + system) / 1e6);
    }
  }
  const percent = least_s.map((took_s) => (100 * took_s * sampleRate_Hz) / BLOCK_FRAMES);
  return {
    mean: percent.reduce((sum, value) => sum + value, 0) / blockCount,
    p50: percentile(percent, 50),
    p95: percentile(percent, 95),
    p99: percentile(percent, 99),
    max: percentile(percent, 100),
  };
}

/** An engine that has taken the song and plays it. */
function playing(sampleRate_Hz: number, outputs: readonly Float32Array[][], messages: readonly ToEngine[]): LiveEngine {
  const source = demoPiece(sampleRate_Hz);
  const { frameCount } = source;
  const chunkFrames = Math.ceil(frameCount / BLOCK_FRAMES) * BLOCK_FRAMES;
  const treatment = busyDemoTreatment(sampleRate_Hz);
  const engine = new LiveEngine(sampleRate_Hz, () => undefined);
  engine.take({ kind: 'song', treatment, frameCount, chunkFrames, lane: null, changes: [], hashed: false });
  const padded = (channel: ArrayLike<number>) => {
    const all = new Float32Array(chunkFrames);
    all.set(channel);
    return all;
  };
  const blocks = (list: (typeof source.tracks)['kick']) =>
    list.map(({ signal }) => ({ left: padded(signal.left), right: padded(signal.right) }));
  const { kick, bass, rest } = source.tracks;
  engine.take({ kind: 'chunk', index: 0, sound: { kick: blocks(kick), bass: blocks(bass), rest: blocks(rest) } });
  for (let i = 0; i < 60; i++) engine.process(outputs, BLOCK_FRAMES); // runs the latency
  for (const message of messages) engine.take(message);
  engine.take({ kind: 'play' });
  return engine;
}
