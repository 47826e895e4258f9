import type { MeasureId } from './statistics.js';

/** What a measure reads, where it comes from, and when it misleads. */
export interface MeasureHelp {
  readonly reads: string;
  readonly source: string;
  readonly misleads: string;
}

/** A measure without help does not compile. */
export const MEASURE_HELP: Readonly<Record<MeasureId, MeasureHelp>> = {
  clearance: {
    reads:
      'How far the kick stands over the bass in the first 150 ms of a hit, in the third octaves that make the kick, each counting by the kick’s own power. 0 dB: equals; under +2 dB: covered.',
    source: 'Defined and tried for this project on songs with known faults.',
    misleads: 'The click above 500 Hz is not counted. Two close pitches that beat read as covering.',
  },
  agreement: {
    reads: 'How much kick and bass together hold at 30 to 150 Hz against their powers added, hit by hit.',
    source: 'Sum of coherent and incoherent powers, a handbook formula.',
    misleads: 'Different pitches read anywhere within 1 dB. A shift counts only where one value helps all hits.',
  },
  centre: {
    reads: 'What the lows lose when both channels are added to one, 20 to 120 Hz.',
    source: 'Mid power over mid and side power, a closed form of the correlation.',
    misleads: 'A source off centre loses some too, without any width.',
  },
  evenness: {
    reads: 'The spread of the note levels of the bass, each from 30 to 250 ms after its start, unweighted.',
    source: 'Percentiles 10 and 90; the line through the pitches by Theil and Sen.',
    misleads: 'Accents that are played count as spread. As heard, lower notes are softer: see the 60-phon reading.',
  },
  carry: {
    reads: 'How much further the bass falls than the song does on a small loudspeaker; 0 LU: no further.',
    source: 'K-weighting and gates of Recommendation ITU-R BS.1770-5; the loudspeakers are models.',
    misleads: 'A phone’s figure says mostly how steep the phone is. A real laptop may do more or less.',
  },
  headroom: {
    reads: 'What the lows cost in peak level: the middle of all loud 400 ms blocks with the lows less without them.',
    source: 'True peak and loudness of Recommendation ITU-R BS.1770-5.',
    misleads: 'It is the sum of the stems as they came: what the mix bus does afterwards is not known here.',
  },
};
