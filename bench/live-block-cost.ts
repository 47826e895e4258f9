import { busyDemoTreatment, demoPiece } from '../tests/browser/demo-piece.js';
import { LiveEngine } from '../worklet/live-engine.js';

/** @returns processor time per block as a share of the block's duration, mean over half of the demo piece, engine warm. */
export function liveBlockCost(sampleRate_Hz: number): number {
  const source = demoPiece(sampleRate_Hz);
  const { frameCount } = source;
  const chunkFrames = Math.ceil(frameCount / 128) * 128;
  const engine = new LiveEngine(sampleRate_Hz, () => undefined);
  const treatment = busyDemoTreatment(sampleRate_Hz);
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
  const outputs = Array.from({ length: 8 }, () => [new Float32Array(128), new Float32Array(128)]);
  for (let i = 0; i < 60; i++) engine.process(outputs, 128); // runs the latency
  engine.take({ kind: 'play' });
  const warm = Math.floor(frameCount / 4 / 128);
  for (let i = 0; i < warm; i++) engine.process(outputs, 128);
  const begin = process.cpuUsage();
  const timed = 2 * warm;
  for (let i = 0; i < timed; i++) engine.process(outputs, 128);
  const { user, system } = process.cpuUsage(begin);
  return (user + system) / 1e6 / ((timed * 128) / sampleRate_Hz);
}
