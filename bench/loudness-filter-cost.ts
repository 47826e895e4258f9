import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Processor time of ffmpeg's `ebur128=peak=true` over every stem of a folder, in seconds: a yardstick that any machine with
 * ffmpeg has. Null where ffmpeg is not installed or does not say what it took.
 */
export function loudnessFilterCost_s(folder: string): number | null {
  let sum = 0;
  for (const name of readdirSync(folder).filter((file) => file.endsWith('.wav'))) {
    const filter = ['-af', 'ebur128=peak=true', '-f', 'null', '-'];
    const { stderr, status } = spawnSync(
      'ffmpeg',
      ['-hide_banner', '-nostdin', '-benchmark', '-i', join(folder, name), ...filter],
      { encoding: 'utf8', maxBuffer: 1 << 27 },
    );
    const said = status === 0 ? /bench: utime=([\d.]+)s stime=([\d.]+)s/.exec(stderr) : null;
    if (said === null) return null;
    sum += Number(said[1]) + Number(said[2]);
  }
  return sum;
}
