import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Hit } from '../song/song.js';
import { unmeasurable } from '../units/reading.js';
import { analysisChannel } from './analysis-channel.js';
import { findBassNotes, type BassTracks } from './bass-notes.js';
import { kickDecay } from './kick-decay.js';
import { kickFundamental } from './kick-fundamental.js';
import { findKickHits } from './kick-hits.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { findTempo } from './tempo.js';

/** What the kick alone tells. */
export type KnownKick = Pick<Knowledge, 'hits' | 'fundamental_Hz' | 'decay_ms'>;

/** Finds every hit and note, the tempo, and the kick's fundamental and decay. */
export function knowSong({ kick, bass }: SongSound): Knowledge {
  return knowWithBass(knowKick(kick), bass);
}

/** Finds every hit of the kick, its fundamental and decay. */
export function knowKick(kick: StereoSignal | null): KnownKick {
  if (kick === null) {
    const none = unmeasurable('The song has no kick.');
    return { hits: [], fundamental_Hz: none, decay_ms: none };
  }
  const channel = analysisChannel(kick);
  const hits: Hit[] = findKickHits(kick, channel);
  return { hits, fundamental_Hz: kickFundamental(channel, hits), decay_ms: kickDecay(channel, hits) };
}

/**
 * Finds every note of the bass, and from both the tempo.
 * @param tracks those of the bass, where they are at hand.
 */
export function knowWithBass(kick: KnownKick, bass: StereoSignal | null, tracks?: BassTracks): Knowledge {
  const notes = bass === null ? [] : findBassNotes(bass, kick.hits, tracks);
  return { ...kick, notes, tempo_bpm: findTempo(kick.hits, notes) };
}
