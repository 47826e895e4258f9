import { allowedGain_dB } from '../audio/monitor-level.js';
import { HEARD_PARTS, type HeardPart } from '../../protocol/heard-part.js';
import { useKey } from '../keys/use-keys.js';
import { nextReference, swapped } from '../listen/listening.js';
import { SPEAKERS } from '../listen/listening-labels.js';
import type { StripLoop } from '../strip/SongStrip.js';
import { loopEndingAt, loopStartingAt, nextOf } from './loop-at.js';
import type { LiveListening } from './use-live-sound.js';

export interface SoundKeys {
  readonly live: LiveListening;
  readonly position_s: number;
  readonly duration_s: number;
  readonly beat_s: number;
  readonly loop: StripLoop | null;
  /** Files of the references. */
  readonly references: readonly string[];
  /** What L brings back: the loop before, else what is in sight. */
  readonly loopBefore: StripLoop;
  onLoop(loop: StripLoop | null): void;
  onSheet(): void;
  onCompare(): void;
}

/** What the keys do to the sound: play, swap, solo, loudspeaker, monitor, loop. */
export function useSoundKeys({
  live,
  position_s,
  duration_s,
  beat_s,
  loop,
  references,
  loopBefore,
  onLoop,
  onSheet,
  onCompare,
}: SoundKeys): void {
  const { listening, change } = live;
  useKey('play', live.toggle);
  useKey('swap', () => change(swapped(listening)));
  useKey('difference', () => change({ difference: !listening.difference, reference: null }));
  useKey(
    'reference',
    references.length === 0 ? null : () => change({ reference: nextReference(listening, references) }),
  );
  useKey('mono', () => change({ mono: !listening.mono }));
  useKey('softer', () => change({ monitor_dB: allowedGain_dB(listening.monitor_dB - 1, listening.unlocked) }));
  useKey('louder', () => change({ monitor_dB: allowedGain_dB(listening.monitor_dB + 1, listening.unlocked) }));
  const speakers = SPEAKERS.map(({ id }) => id);
  useKey('speaker', () => change({ speaker: nextOf(speakers, listening.speaker, 1) }));
  useKey('next-part', () => change({ solo: nextOf(HEARD_PARTS, listening.solo, 1) }));
  useKey('part-before', () => change({ solo: nextOf(HEARD_PARTS, listening.solo, -1) }));
  const alone = (solo: HeardPart) => () => change({ solo: listening.solo === solo ? 'all' : solo });
  useKey('kick', alone('kick'));
  useKey('bass', alone('bass'));
  useKey('rest', alone('rest'));
  useKey('low-lane', alone('low lane'));
  useKey('high-lane', alone('high lane'));
  useKey('loop', () => onLoop(loop === null ? loopBefore : null));
  useKey('loop-from', () => onLoop(loopStartingAt(loop, position_s, beat_s, duration_s)));
  useKey('loop-to', () => onLoop(loopEndingAt(loop, position_s, beat_s)));
  useKey('listening', onSheet);
  useKey('compare', onCompare);
}
