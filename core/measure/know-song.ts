import { unmeasurable } from '../units/reading.js';
import { analysisChannel } from './analysis-channel.js';
import { findBassNotes } from './bass-notes.js';
import { kickDecay } from './kick-decay.js';
import { kickFundamental } from './kick-fundamental.js';
import { findKickHits } from './kick-hits.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { findTempo } from './tempo.js';

/** Finds every hit and note, the tempo, and the kick's fundamental and decay. */
export function knowSong(sound: SongSound): Knowledge {
  const kick = sound.kick === null ? null : analysisChannel(sound.kick);
  const hits = sound.kick === null || kick === null ? [] : findKickHits(sound.kick, kick);
  const notes = sound.bass === null ? [] : findBassNotes(sound.bass, hits);
  const none = unmeasurable('The song has no kick.');
  return {
    hits,
    notes,
    tempo_bpm: findTempo(hits, notes),
    fundamental_Hz: kick === null ? none : kickFundamental(kick, hits),
    decay_ms: kick === null ? none : kickDecay(kick, hits),
  };
}
