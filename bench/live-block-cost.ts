import { percentile } from '../core/units/statistics.js';
import { busyDemoTreatment, demoPiece } from '../tests/browser/demo-piece.js';
import type { FromEngine, ToEngine } from '../protocol/engine-messages.js';
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
  /** One beat of it, round and round. */
  readonly loop: BlockCost;
  /** The blocks of silence in which the jump to that beat is made ready. */
  readonly jump: BlockCost;
}

const BLOCK_FRAMES = 128;
/** The same blocks are run this often, and the least of what each took counts: compiling and collecting only ever add. */
const PASSES = 7;
const BEAT_S = 0.5;

/** Every stage on, the demo piece, its bass in stereo; the engine warm. */
export function liveBlockCost(sampleRate_Hz: number): LiveBlockCost {
  const blockCount = Math.floor(demoPiece(sampleRate_Hz).frameCount / BLOCK_FRAMES) - 100;
  const beat = { from: Math.round(sampleRate_Hz), to: Math.round((1 + BEAT_S) * sampleRate_Hz) };
  const song = leastCosts(sampleRate_Hz, blockCount, []);
  const loop = leastCosts(sampleRate_Hz, blockCount, [{ kind: 'loop', loop: beat }]);
  return {
    song: costOf(song),
    loop: costOf(loop.filter(({ waiting }) => !waiting)),
    jump: costOf(loop.filter(({ waiting }) => waiting)),
  };
}

interface Block {
  percent: number;
  waiting: boolean;
}

function leastCosts(sampleRate_Hz: number, blockCount: number, messages: readonly ToEngine[]): Block[] {
  const outputs = Array.from({ length: 8 }, () => [new Float32Array(BLOCK_FRAMES), new Float32Array(BLOCK_FRAMES)]);
  const blocks = Array.from({ length: blockCount }, (): Block => ({ percent: Infinity, waiting: false }));
  for (let pass = 0; pass < PASSES; pass++) {
    let waiting = false;
    const engine = playing(sampleRate_Hz, outputs, messages, (told) => {
      if (told.kind === 'at') ({ waiting } = told);
    });
    for (const block of blocks) {
      const begin = process.cpuUsage();
      engine.process(outputs, BLOCK_FRAMES);
      const { user, system } = process.cpuUsage(begin);
      block.percent = Math.min(block.percent, ((user + system) / 1e4) * (sampleRate_Hz / BLOCK_FRAMES));
      engine.report();
      block.waiting = waiting;
    }
  }
  return blocks;
}

function costOf(blocks: readonly Block[]): BlockCost {
  const percents = Float64Array.from(blocks, ({ percent }) => percent);
  return {
    mean: percents.reduce((sum, value) => sum + value, 0) / percents.length,
    p50: percentile(percents, 50),
    p95: percentile(percents, 95),
    p99: percentile(percents, 99),
    max: percentile(percents, 100),
  };
}

/** An engine that has taken the song and plays it. */
function playing(
  sampleRate_Hz: number,
  outputs: readonly Float32Array[][],
  messages: readonly ToEngine[],
  tell: (told: FromEngine) => void,
): LiveEngine {
  const source = demoPiece(sampleRate_Hz);
  const { frameCount } = source;
  const chunkFrames = Math.ceil(frameCount / BLOCK_FRAMES) * BLOCK_FRAMES;
  const treatment = busyDemoTreatment(sampleRate_Hz);
  const engine = new LiveEngine(sampleRate_Hz, tell);
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
