import { songRate, startTimes } from '../song/conform.js';
import type { OpenStem } from './open-stems.js';

/** One rate, one start and one length for all stems of the song. */
export interface SongClock {
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  /** Where a file begins, in samples of the song's rate; 0 for files that are not summed. */
  startOf(file: string): number;
  /** The same in samples of the file's own rate. */
  startInFile(file: string): number;
  readonly remarks: readonly string[];
}

/** Stems whose time references lie further apart than this do not belong to one clock. */
const FURTHEST_APART_S = 1200;

/** @param stems those that are summed; at least one. */
export function clockOf(stems: readonly OpenStem[]): SongClock {
  const sampleRate_Hz = songRate(stems.map(({ facts }) => facts.sampleRate_Hz));
  const said = startTimes(
    stems.map(({ facts }) => ({
      timeReference_samples: facts.broadcast?.timeReference_samples ?? null,
      sampleRate_Hz: facts.sampleRate_Hz,
    })),
  );
  const seconds = stems.map(({ facts }, i) => said.start_samples[i]! / facts.sampleRate_Hz);
  const apart = Math.max(0, ...seconds) > FURTHEST_APART_S;
  const starts = new Map(stems.map(({ file }, i) => [file, apart ? 0 : seconds[i]!]));
  const inFile = new Map(stems.map(({ file }, i) => [file, apart ? 0 : said.start_samples[i]!]));
  const startOf = (file: string): number => Math.round((starts.get(file) ?? 0) * sampleRate_Hz);
  const frameCount = stems.reduce(
    (longest, { file, facts }) =>
      Math.max(longest, startOf(file) + Math.ceil((facts.frameCount * sampleRate_Hz) / facts.sampleRate_Hz)),
    0,
  );
  return {
    sampleRate_Hz,
    frameCount,
    startOf,
    startInFile: (file) => inFile.get(file) ?? 0,
    remarks: [...rateRemarks(stems, sampleRate_Hz), ...startRemarks(said.mixed, apart)],
  };
}

function rateRemarks(stems: readonly OpenStem[], song_Hz: number): string[] {
  const others = stems.filter(({ facts }) => facts.sampleRate_Hz !== song_Hz);
  const kHz = (rate_Hz: number): string => `${rate_Hz / 1000} kHz`;
  return others.map(
    ({ file, facts }) =>
      `${file}: ${kHz(facts.sampleRate_Hz)} among ${kHz(song_Hz)}: converted; treated and printed at ${kHz(song_Hz)}.`,
  );
}

function startRemarks(mixed: boolean, apart: boolean): string[] {
  if (mixed) return ['Some files carry a time reference and others do not: every stem is taken to begin at 0.'];
  if (apart) return ['The time references lie more than 20 minutes apart: every stem is taken to begin at 0.'];
  return [];
}
