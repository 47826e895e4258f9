import { inspectSong } from '../core/job/inspect-song.js';
import { printAndProve } from '../core/job/print-and-prove.js';
import { treatSong } from '../core/job/treat-song.js';
import { openDiskHost } from '../node/disk-host.js';
import { cpuTime_s } from './cpu-time.js';

export interface JobCost {
  readonly cpu_s: number;
  readonly wall_s: number;
  readonly peakMemory_MB: number;
}

/** Opens the song and finds everything that is to be found. */
export function inspectCost(folder: string): Promise<JobCost> {
  return costOf(async () => inspectSong(await openDiskHost(folder, () => undefined), {}));
}

/** The whole job: inspect, treat all that is found, print, prove. */
export function wholeJobCost(folder: string): Promise<JobCost> {
  return costOf(async () => {
    const host = await openDiskHost(folder, () => undefined);
    const outcome = await treatSong(host, {}, { said: { accept: 'all' }, wishes: [], settings: [] });
    await printAndProve(host, outcome, { depth: null, gain_dB: 0 });
  });
}

async function costOf(work: () => Promise<unknown>): Promise<JobCost> {
  const before = performance.now();
  const cpu_s = await cpuTime_s(work);
  return {
    cpu_s,
    wall_s: (performance.now() - before) / 1000,
    peakMemory_MB: process.resourceUsage().maxRSS / 1024,
  };
}
