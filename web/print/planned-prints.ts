import { printPlan, type PrintItem, type PrintWishes } from '../../core/delivery/print-plan.js';
import type { Stem } from '../../core/song/song.js';
import type { Treatment } from '../../core/treatment/treatment.js';

/** A file that will be written, with its size as far as it is known. */
export interface PlannedPrint {
  readonly name: string;
  /** `24-bit, stereo`, or that it is a copy. */
  readonly format: string;
  /** Bytes of sound, chunks aside; null for a copy of unknown size. */
  readonly size_bytes: number | null;
}

export interface SongToPrint {
  readonly stems: readonly Stem[];
  readonly sampleRate_Hz: number;
  readonly treatment: Treatment;
  /** Sizes of the source files by name, where they are known. */
  readonly sizes_bytes: ReadonlyMap<string, number>;
}

/** What these choices write, by the core's own plan. */
export function plannedPrints(song: SongToPrint, wishes: PrintWishes): PlannedPrint[] {
  const { stems, sampleRate_Hz, treatment, sizes_bytes } = song;
  const summed = stems.filter(({ faults }) => !faults.some(({ id }) => id === 'duplicate' || id === 'bus'));
  const planned = summed.map((stem) => ({
    stem,
    start: Math.round((stem.start_samples * sampleRate_Hz) / stem.sampleRate_Hz),
    frameCount: Math.ceil((stem.frameCount * sampleRate_Hz) / stem.sampleRate_Hz),
  }));
  return printPlan(treatment, planned, wishes).map((item) => plannedPrint(item, sizes_bytes));
}

function plannedPrint(item: PrintItem, sizes_bytes: SongToPrint['sizes_bytes']): PlannedPrint {
  const { name } = item;
  if (item.kind === 'copy') {
    return { name, format: 'copied, the same bytes', size_bytes: sizes_bytes.get(item.file) ?? null };
  }
  const bits = item.depth === '32f' ? 32 : Number(item.depth);
  const depth = item.depth === '32f' ? '32-bit float' : `${item.depth}-bit`;
  const size_bytes = (item.frameCount * item.channels * bits) / 8;
  return { name, format: `${depth}, ${item.channels === 1 ? 'mono' : 'stereo'}`, size_bytes };
}

/** `34.2 MB`; what is not known is not counted and said. */
export function saySizes(prints: readonly PlannedPrint[]): string {
  const known = prints.reduce((sum, { size_bytes }) => sum + (size_bytes ?? 0), 0);
  const open = prints.some(({ size_bytes }) => size_bytes === null);
  return `${(known / 1e6).toFixed(1)}\u00a0MB${open ? ' and the copies' : ''}`;
}

/** The folder that the next print gets, where no other program has used it meanwhile. */
export function nextVersion(versions: readonly { readonly name: string }[]): string {
  return `v${1 + versions.reduce((most, { name }) => Math.max(most, Number(name.slice(1)) || 0), 0)}`;
}
