import { sayFigure } from '../../core/findings/say-figure.js';

/** How fair two versions are heard: each as loud as the source, or as they are. */
export function sayMatches([one, other]: readonly [number | null, number | null]): string {
  if (one === null || other === null) return 'Not matched: the match of one of them was not measured.';
  return `Each as loud as the source: ${signed(one)} and ${signed(other)}.`;
}

function signed(gain_dB: number): string {
  return `${gain_dB > 0.05 ? '+' : ''}${sayFigure(gain_dB, 'dB')}`;
}
