import { useEffect, useRef, useState } from 'react';
import type { Treatment } from '../../core/treatment/treatment.js';
import type { SoundingSong } from '../../protocol/sound-request.js';
import type { AskForSound, Playback } from '../audio/engine-deck.js';
import { LiveSound } from '../audio/live-sound.js';
import { liveTreatment } from '../audio/live-treatment.js';
import { afterSafeStart_dB } from '../audio/monitor-level.js';
import { LISTENING_AT_FIRST, type Listening } from '../listen/listening.js';
import { StateStore } from '../state/state-store.js';
import { AT_REST, isSeen } from './seen-playback.js';

/** The sound of the page as the bar sees it. */
export interface LiveListening {
  readonly listening: Listening;
  /** Tells of itself, so that only what shows it is drawn anew. */
  readonly playback: StateStore<Playback>;
  readonly trouble: string | null;
  /** Where the song is heard at this moment; null while nothing sounds. */
  playingAt_s(): number | null;
  toggle(): void;
  locate(time_s: number): void;
  loop(from_s: number, to_s: number): void;
  unloop(): void;
  change(change: Partial<Listening>): void;
}

/** Opens the sound at the first press of play, and keeps it in step with treatment and listening. */
export function useLiveSound(
  song: SoundingSong | null,
  treatment: Treatment | null,
  match_dB: number,
  ask: AskForSound,
): LiveListening {
  const [listening, setListening] = useState(LISTENING_AT_FIRST);
  const [playback] = useState(() => new StateStore<Playback>(AT_REST));
  const [trouble, setTrouble] = useState<string | null>(null);
  const [sound, setSound] = useState<LiveSound | null>(null);
  const opening = useRef(false);
  useEffect(() => {
    if (sound === null) return undefined;
    const end = sound.subscribe(() => {
      if (isSeen(playback.read(), sound.now)) playback.set(sound.now);
      setTrouble(sound.refusal);
    });
    return () => {
      end();
      playback.set(AT_REST);
      void sound.close();
    };
  }, [sound, playback]);
  const rate_Hz = song?.sampleRate_Hz ?? null;
  // another song, or the same at another rate, opens the sound anew
  useEffect(() => () => setSound(null), [rate_Hz]);
  useTreatment(sound, song, treatment);
  // the match is the whole mix's: a part alone is heard as it is
  useHearing(sound, listening, listening.solo === 'all' ? match_dB : 0);
  const startSafely = () =>
    setListening((before) => ({ ...before, unlocked: false, monitor_dB: afterSafeStart_dB(before.monitor_dB) }));
  const open = async () => {
    if (song === null || treatment === null || opening.current) return;
    opening.current = true;
    try {
      const live = { treatment: liveTreatment(treatment), frameCount: song.frameCount };
      const opened = await LiveSound.open(live, ask, listening.monitor_dB);
      opened.onSafeStart = startSafely;
      startSafely();
      setSound(opened);
      opened.play();
    } catch (error) {
      setTrouble(`No sound: ${error instanceof Error ? error.message : String(error)}.`);
    } finally {
      opening.current = false;
    }
  };
  const frame = (time_s: number) => Math.round(time_s * (rate_Hz ?? 0));
  return {
    ...{ listening, playback, trouble },
    playingAt_s: () => sound?.position_s ?? null,
    toggle: () => {
      if (sound === null) void open();
      else if (sound.now.playing) sound.pause();
      else sound.play();
    },
    locate: (time_s) => sound?.locate(frame(time_s)),
    loop: (from_s, to_s) => sound?.setLoop({ from: frame(from_s), to: frame(to_s) }),
    unloop: () => sound?.setLoop(null),
    change: (change) => setListening((before) => ({ ...before, ...change })),
  };
}

/** Other settings are taken over while it sounds; where other files sound, the song is set anew and goes on from where it was. */
function useTreatment(sound: LiveSound | null, song: SoundingSong | null, treatment: Treatment | null): void {
  const before = useRef<{ sound: LiveSound; song: SoundingSong; files: string } | null>(null);
  useEffect(() => {
    if (sound === null || song === null || treatment === null) return;
    const live = liveTreatment(treatment);
    const files = filesOf(live);
    const goesOn = before.current?.sound === sound;
    if (goesOn && (before.current?.song !== song || before.current.files !== files)) {
      const { position, playing } = sound.now;
      sound.setSong({ treatment: live, frameCount: song.frameCount });
      sound.locate(Math.min(position, song.frameCount));
      if (playing) sound.play();
    } else sound.setTreatment(live);
    before.current = { sound, song, files };
  }, [sound, song, treatment]);
}

function filesOf({ kick, bass, rest }: Treatment): string {
  return JSON.stringify([kick, bass, rest].map(({ tracks }) => tracks.map(({ file }) => file)));
}

function useHearing(sound: LiveSound | null, listening: Listening, match_dB: number): void {
  const { side, solo, difference, speaker, mono, monitor_dB } = listening;
  useEffect(() => {
    sound?.monitor.hear({ side, solo, difference, match_dB });
    sound?.setLane(solo === 'low lane' ? 'low' : solo === 'high lane' ? 'high' : null);
  }, [sound, side, solo, difference, match_dB]);
  useEffect(() => sound?.monitor.through(speaker, mono), [sound, speaker, mono]);
  const atFirst = useRef(monitor_dB);
  useEffect(() => {
    // the safe start has its own slow ramp: only what is chosen afterwards moves the level
    if (monitor_dB !== atFirst.current) sound?.monitor.setLevel(monitor_dB);
    atFirst.current = monitor_dB;
  }, [sound, monitor_dB]);
}
