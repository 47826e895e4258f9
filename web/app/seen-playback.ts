import { useSyncExternalStore } from 'react';
import type { Playback } from '../audio/engine-deck.js';
import type { StateStore } from '../state/state-store.js';

export const AT_REST: Playback = { position: 0, preparing: null, playing: false, waiting: false };

/** Steps of the place that are shown: finer ones would draw the bar anew for nothing. */
const STEP_frames = 4096;

/** Whether a report of the sound changes what is shown of it. */
export function isSeen(before: Playback, now: Playback): boolean {
  return (
    before.playing !== now.playing ||
    before.waiting !== now.waiting ||
    before.preparing !== now.preparing ||
    Math.floor(before.position / STEP_frames) !== Math.floor(now.position / STEP_frames)
  );
}

/** Where the song stands for the eye: while it does not sound yet, the place that is made ready for it. */
export function seenPosition({ playing, waiting, position, preparing }: Playback): number {
  return playing && !waiting ? position : (preparing ?? position);
}

/** The sound as it is reported, for what shows it. */
export function usePlayback(playback: StateStore<Playback>): Playback {
  return useSyncExternalStore(playback.subscribe, playback.read);
}
