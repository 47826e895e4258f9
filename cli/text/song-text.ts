import type { Stem } from '../../core/song/song.js';
import { numberText } from './figure-text.js';
import { formatTable } from './table.js';

/** The stems of a song with their roles and why they have them, then the faults of single files. */
export function songText(stems: readonly Stem[], width: number): string {
  const columns = [
    { title: 'file' },
    { title: 'role' },
    { title: 'because' },
    { title: 'channels', align: 'right' as const },
    { title: 'bits', align: 'right' as const },
    { title: 'rate, Hz', align: 'right' as const },
    { title: 'length, s', align: 'right' as const },
  ];
  const rows = stems.map((stem) => [
    stem.file,
    stem.role,
    stem.because,
    String(stem.channels),
    stem.bitDepth,
    String(stem.sampleRate_Hz),
    numberText(stem.duration_s, 1),
  ]);
  const faults = stems.flatMap(({ file, faults: found }) => found.map(({ sentence }) => `${file}: ${sentence}\n`));
  return formatTable(columns, rows, width) + faults.join('');
}
