import { useEffect, useRef, useState } from 'react';
import type { Playback } from '../audio/engine-deck.js';
import type { LiveSound, SoundEars } from '../audio/live-sound.js';
import { StateStore } from '../state/state-store.js';
import { sayTaken } from './say-taken.js';
import { AT_REST, isSeen } from './seen-playback.js';

interface OpenEars {
  onSafeStart(): void;
  /** @param place_s where the song stood. */
  onLost(place_s: number): void;
}

/** One sound at a time, opened on demand and closed with its rate. */
export function useOpenSound(rate_Hz: number | null) {
  const [sound, setSound] = useState<LiveSound | null>(null);
  const [playback] = useState(() => new StateStore<Playback>(AT_REST));
  const [refusal, setRefusal] = useState<string | null>(null);
  const [taken, setTaken] = useState<string | null>(null);
  const opening = useRef(false);
  useEffect(() => {
    if (sound === null) return undefined;
    const end = sound.subscribe(() => {
      if (isSeen(playback.read(), sound.now)) playback.set(sound.now);
      setRefusal(sound.refusal);
    });
    return () => {
      end();
      playback.set({ ...AT_REST, position: playback.read().position });
      void sound.close();
    };
  }, [sound, playback]);
  // another song, or the same at another rate, opens the sound anew
  useEffect(
    () => () => {
      setSound(null);
      setTaken(null);
      setRefusal(null);
      playback.set(AT_REST);
    },
    [rate_Hz, playback],
  );
  const open = async (make: (ears: SoundEars) => Promise<LiveSound>, { onSafeStart, onLost }: OpenEars) => {
    if (opening.current) return;
    opening.current = true;
    try {
      const opened = await make({
        onSafeStart,
        onInterrupted: () => setTaken(sayTaken('interrupted', placeOf_s(opened, rate_Hz!))),
        onLost: () => {
          const place_s = placeOf_s(opened, rate_Hz!);
          onLost(place_s);
          setTaken(sayTaken('lost', place_s));
          setSound(null);
        },
      });
      onSafeStart();
      setSound(opened);
      setTaken(null);
      setRefusal(null);
      opened.play();
    } catch (error) {
      setTaken(`No sound: ${error instanceof Error ? error.message : String(error)}.`);
    } finally {
      opening.current = false;
    }
  };
  const play = (opened: LiveSound) => {
    setTaken(null);
    opened.play();
  };
  return { sound, playback, trouble: taken ?? refusal, open, play };
}

/** Where the song stands, or is about to. */
function placeOf_s({ songNow: { position, preparing } }: LiveSound, rate_Hz: number): number {
  return (preparing ?? position) / rate_Hz;
}
