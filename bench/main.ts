import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { BENCH_SONG_S, LONG_SONG_S, writeBenchSong, writeLongSong } from './bench-song.js';
import { inspectCost, wholeJobCost, type JobCost } from './job-cost.js';
import { LIMITS, type Limit } from './limits.js';
import { longSongPage, type LongSongPage } from './long-song-page.js';
import { liveBlockCost, type BlockCost, type LiveBlockCost } from './live-block-cost.js';
import { loudnessFilterCost_s } from './loudness-filter-cost.js';
import { pageCost, type PageCost } from './page-cost.js';
import { EVERY_STAGE, STAGE_SOUND_S, stageCosts, type StageCost } from './stage-cost.js';

const [word, folder = ''] = process.argv.slice(2);
if (word === 'song') await writeBenchSong(folder);
else if (word === 'long-song') await writeLongSong(folder);
else if (word === 'long-song-page') console.log(JSON.stringify(await longSongPage(folder)));
else if (word === 'inspect') console.log(JSON.stringify(await inspectCost(folder)));
else if (word === 'job') console.log(JSON.stringify(await wholeJobCost(folder)));
else if (word === 'live') console.log(JSON.stringify(liveBlockCost(48_000)));
else if (word === 'page') console.log(JSON.stringify(await pageCost(folder)));
else if (word === 'stages') console.log(JSON.stringify(await stageCosts()));
else process.exitCode = bench(word === '--check');

/** Runs every part in a process of its own and prints what it took; with `check`, 1 where a limit is passed. */
function bench(check: boolean): number {
  const song = mkdtempSync(join(tmpdir(), 'keelson-bench-'));
  try {
    part('song', song);
    const inspect = JSON.parse(part('inspect', song)) as JobCost;
    const ours = loudnessFilterCost_s(song);
    const job = JSON.parse(part('job', song)) as JobCost;
    const stages = JSON.parse(part('stages')) as StageCost[];
    const live = JSON.parse(part('live')) as LiveBlockCost;
    const page = JSON.parse(part('page', song)) as PageCost;
    const long = join(song, 'long');
    mkdirSync(long);
    part('long-song', long);
    const longPage = JSON.parse(part('long-song-page', long)) as LongSongPage | null;
    console.log(
      `Node ${process.version}, ${process.platform} ${process.arch}; ${BENCH_SONG_S} s of four stems, 48 kHz\n`,
    );
    jobLine('inspect', inspect);
    jobLine('inspect, treat, print, prove', job);
    loudnessLine(inspect, ours);
    stageTable(stages);
    console.log('\nlive sound, every stage on, percent of a block of 128 frames');
    blockLine('song', live.song);
    blockLine('loop of one beat', live.loop);
    blockLine('jump, silent', live.jump);
    pageLines(page);
    longSongLine(longPage);
    return check ? checked({ inspect, job, stages, live, page }) : 0;
  } finally {
    rmSync(song, { recursive: true });
  }
}

function part(name: string, ...rest: readonly string[]): string {
  return execFileSync(process.execPath, [fileURLToPath(import.meta.url), name, ...rest], { encoding: 'utf8' });
}

function jobLine(name: string, { cpu_s, wall_s, peakMemory_MB }: JobCost): void {
  const times = BENCH_SONG_S / wall_s;
  console.log(
    `${name.padEnd(30)}${times.toFixed(1).padStart(6)} times real time` +
      `${cpu_s.toFixed(1).padStart(8)} s cpu${wall_s.toFixed(1).padStart(8)} s${peakMemory_MB.toFixed(0).padStart(7)} MB peak`,
  );
}

function loudnessLine(inspect: JobCost, loudness_s: number | null): void {
  console.log(
    loudness_s === null
      ? 'ffmpeg is not installed here: no ratio to its loudness filter.'
      : `${'ffmpeg ebur128=peak=true'.padEnd(30)}${loudness_s.toFixed(1)} s cpu on the same stems; ` +
          `inspect takes ${(inspect.cpu_s / loudness_s).toFixed(1)} times that`,
  );
}

function stageTable(stages: readonly StageCost[]): void {
  const times = (seconds: number | null): string =>
    (seconds === null ? '' : (STAGE_SOUND_S / seconds).toFixed(0)).padStart(10);
  console.log(`\n${'times real time, one thread'.padEnd(34)}${'on'.padStart(10)}${'off'.padStart(10)}`);
  for (const { stage, on_s, off_s } of stages) console.log(`${stage.padEnd(34)}${times(on_s)}${times(off_s)}`);
}

function longSongLine(page: LongSongPage | null): void {
  if (page === null) {
    console.log(
      '\nno browser is found here, so nothing is said of a long song in the page. KEELSON_BROWSER names one.',
    );
    return;
  }
  const { opened_s, frame_p50_ms, frame_p95_ms, frameCpu_p95_ms, longestTask_ms, peakMemory_MB } = page;
  console.log(
    `\npage with ${LONG_SONG_S} s of six stems: findings after ${opened_s.toFixed(0)} s, ` +
      `strip moved at ${frame_p50_ms.toFixed(1)} ms a frame (95 % under ${frame_p95_ms.toFixed(1)}), ` +
      `95 % under ${frameCpu_p95_ms.toFixed(1)} ms cpu, longest task ${longestTask_ms.toFixed(0)} ms cpu, ` +
      `${peakMemory_MB.toFixed(0)} MB peak`,
  );
}

function blockLine(name: string, { mean, p50, p95, p99, max }: BlockCost): void {
  const figures = { mean, p50, p95, p99, max };
  const line = Object.entries(figures).map(([figure, percent]) => `${figure} ${percent.toFixed(1)}`.padStart(14));
  console.log(`${name.padEnd(20)}${line.join('')}`);
}

function pageLines({
  canPlay_s,
  sounds_s,
  firstFinding_s,
  inspected_s,
  longestTask_ms,
  longestDrawing_ms,
}: PageCost): void {
  const seconds = (value: number): string => `${value.toFixed(1)} s`;
  console.log(
    `\nin the page, from the drop: can be played after ${seconds(canPlay_s)}, sounds after ${seconds(sounds_s)}, ` +
      `first finding after ${seconds(firstFinding_s)}, all after ${seconds(inspected_s)}`,
  );
  console.log(
    `longest task of its own thread: ${longestTask_ms.toFixed(0)} ms cpu while measuring, ` +
      `${longestDrawing_ms.toFixed(0)} ms cpu when the findings are drawn`,
  );
}

interface Costs {
  readonly inspect: JobCost;
  readonly job: JobCost;
  readonly stages: readonly StageCost[];
  readonly live: LiveBlockCost;
  readonly page: PageCost;
}

function checked({ inspect, job, stages, live, page }: Costs): number {
  const found: readonly (readonly [Limit, number])[] = [
    [LIMITS.inspect_s, inspect.cpu_s],
    [LIMITS.wholeJob_s, job.cpu_s],
    [LIMITS.peakMemory_MB, job.peakMemory_MB],
    [LIMITS.everyStage_s, stages.find(({ stage }) => stage === EVERY_STAGE)!.on_s],
    [LIMITS.liveBlock_percent, live.song.mean],
    [LIMITS.longestTask_ms, page.longestTask_ms],
    [LIMITS.liveLoop_percent, live.loop.mean],
    [LIMITS.longestDrawing_ms, page.longestDrawing_ms],
    [LIMITS.worstLiveBlock_percent, Math.max(live.song.p99, live.loop.p99)],
    [LIMITS.worstSilentBlock_percent, live.jump.p99],
  ];
  console.log('');
  for (const [{ name, unit, most, because }, value] of found) {
    const verdict = value <= most ? 'holds' : 'PASSED';
    console.log(`${verdict.padEnd(8)}${name}: ${value.toFixed(1)} of ${most} ${unit} (${because})`);
  }
  return found.every(([{ most }, value]) => value <= most) ? 0 : 1;
}
