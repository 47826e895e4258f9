import { useEffect, useMemo, useRef, useState } from 'react';
import { parseAddress, stageAt, withStage } from '../../core/treatment/paths.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import type { SoundingSong } from '../../protocol/sound-request.js';
import type { BlindTerms } from '../audio/blind-compare.js';
import { BlindRun } from '../audio/blind-run.js';
import type { AskForSound, Playback } from '../audio/engine-deck.js';
import { LiveSound } from '../audio/live-sound.js';
import { liveTreatment } from '../audio/live-treatment.js';
import { afterSafeStart_dB } from '../audio/monitor-level.js';
import { gainToApply_dB, type HeardMatch } from '../listen/heard-match.js';
import { LISTENING_AT_FIRST, type Listening } from '../listen/listening.js';
import type { StateStore } from '../state/state-store.js';
import { AT_REST } from './seen-playback.js';
import { useMatch, type AskForMatch, type MatchGround } from './use-match.js';
import { useOpenSound } from './use-open-sound.js';

/** The sound of the page as the bar sees it. */
export interface LiveListening {
  readonly listening: Listening;
  readonly heard: HeardMatch;
  /** Tells of itself, so that only what shows it is drawn anew. */
  readonly playback: StateStore<Playback>;
  readonly trouble: string | null;
  /** The sound itself, once it is open. */
  readonly sound: LiveSound | null;
  /** Where the strip was chosen last, seconds; null where it was not. */
  readonly placed_s: number | null;
  /** The blind compare under way: while it is, nothing changes what is heard but the compare. */
  readonly blind: BlindRun | null;
  /** Where the song is heard at this moment; null while nothing sounds. */
  playingAt_s(): number | null;
  toggle(): void;
  locate(time_s: number): void;
  loop(from_s: number, to_s: number): void;
  unloop(): void;
  change(change: Partial<Listening>): void;
  /** Null where the sound is not open. */
  beginBlind(terms: BlindTerms): BlindRun | null;
  endBlind(): void;
}

export interface LiveGround extends Omit<MatchGround, 'part'> {
  readonly song: SoundingSong | null;
}

/** What is heard, held still while a blind compare is under way. */
interface Heard {
  readonly listening: Listening;
  readonly treatment: Treatment | null;
  readonly match_dB: number;
}

/** Opens the sound at the first press of play, and keeps it in step with treatment and listening. */
export function useLiveSound(
  { song, ...ground }: LiveGround,
  ask: { readonly sound: AskForSound; readonly match: AskForMatch },
): LiveListening {
  const [listening, setListening] = useState(LISTENING_AT_FIRST);
  const [placed_s, setPlaced] = useState<number | null>(null);
  const [blind, setBlind] = useState<{ readonly run: BlindRun; readonly heard: Heard } | null>(null);
  const treatment = useWithout(ground.treatment, listening.without);
  const match = useMatch({ ...ground, treatment, part: listening.solo }, ask.match);
  const heard = blind?.heard ?? { listening, treatment, match_dB: gainToApply_dB(match.match) };
  const rate_Hz = song?.sampleRate_Hz ?? null;
  const stand = useStand(song);
  const opened = useOpenSound(rate_Hz);
  const { sound, playback } = opened;
  useEffect(() => setBlind(null), [sound]);
  useTreatment(sound, song, heard.treatment);
  useHearing(sound, blind !== null, heard);
  useMonitor(sound, listening.monitor_dB);
  const change = (next: Partial<Listening>) =>
    setListening((before) => ({ ...before, ...(blind === null ? next : monitorOnly(next)) }));
  // another song is listened to from its beginning, all of it
  useEffect(() => {
    if (rate_Hz !== null) return;
    setListening(LISTENING_AT_FIRST);
    setPlaced(null);
  }, [rate_Hz]);
  const startSafely = () =>
    setListening((before) => ({ ...before, unlocked: false, monitor_dB: afterSafeStart_dB(before.monitor_dB) }));
  const frame = (time_s: number) => Math.round(time_s * (rate_Hz ?? 0));
  const open = () => {
    if (song === null || treatment === null) return;
    const { place_s, loop } = stand.current;
    const start = { place: frame(place_s), loop: loop === null ? null : { from: frame(loop[0]), to: frame(loop[1]) } };
    const live = { treatment: liveTreatment(treatment), frameCount: song.frameCount, start };
    void opened.open((ears) => LiveSound.open(live, ask.sound, listening.monitor_dB, ears), {
      onSafeStart: startSafely,
      onLost: (place_s) => {
        stand.current = { ...stand.current, place_s };
      },
    });
  };
  const standAt = (next: typeof stand.current) => {
    stand.current = next;
    if (sound === null) playback.set({ ...AT_REST, position: frame(next.place_s) });
  };
  const unlessBlind = (act: () => void) => blind === null && act();
  return {
    ...{ listening, heard: match, playback, sound, placed_s, change },
    trouble: opened.trouble,
    blind: blind?.run ?? null,
    playingAt_s: () => sound?.position_s ?? null,
    toggle: () => {
      if (sound === null) open();
      else if (sound.now.playing) sound.pause();
      else opened.play(sound);
    },
    locate: (time_s) =>
      unlessBlind(() => {
        setPlaced(time_s);
        standAt({ ...stand.current, place_s: time_s });
        change({ reference: null });
        sound?.locate(frame(time_s));
      }),
    loop: (from_s, to_s) =>
      unlessBlind(() => {
        standAt({ place_s: from_s, loop: [from_s, to_s] });
        sound?.setLoop({ from: frame(from_s), to: frame(to_s) });
      }),
    unloop: () =>
      unlessBlind(() => {
        standAt({ ...stand.current, loop: null });
        sound?.setLoop(null);
      }),
    beginBlind: (terms) => {
      if (sound === null) return null;
      const { solo } = listening;
      const run = new BlindRun(sound.monitor, { solo, match_dB: terms.match_dB }, terms, unknownSeed());
      setBlind({ run, heard: { ...heard, listening: { ...listening, difference: false } } });
      run.play('A');
      if (!sound.now.playing) opened.play(sound);
      return run;
    },
    endBlind: () => setBlind(null),
  };
}

/** While a compare is under way only the level may be moved: it moves both alike. */
function monitorOnly({ monitor_dB, unlocked }: Partial<Listening>): Partial<Listening> {
  return { ...(monitor_dB === undefined ? {} : { monitor_dB }), ...(unlocked === undefined ? {} : { unlocked }) };
}

function unknownSeed(): number {
  return crypto.getRandomValues(new Uint32Array(1))[0]!;
}

/** The treatment without the stage that is left out of what is heard. */
function useWithout(treatment: Treatment | null, without: string | null): Treatment | null {
  return useMemo(() => {
    if (treatment === null || without === null) return treatment;
    const { address } = parseAddress(without);
    const stage = stageAt(treatment, address);
    return stage === null ? treatment : withStage(treatment, address, { ...stage, on: false });
  }, [treatment, without]);
}

/** Where the song is to sound when the sound is opened: what was placed and looped before stays, also where the sound was lost. */
function useStand(song: SoundingSong | null) {
  const stand = useRef<{ readonly place_s: number; readonly loop: readonly [number, number] | null }>(AT_BEGINNING);
  const isOpen = song !== null;
  useEffect(() => {
    if (!isOpen) stand.current = AT_BEGINNING;
  }, [isOpen]);
  return stand;
}

const AT_BEGINNING = { place_s: 0, loop: null };

/** Other settings are taken over while it sounds; where other files sound, the song is set anew and goes on from where it was. */
function useTreatment(sound: LiveSound | null, song: SoundingSong | null, treatment: Treatment | null): void {
  const before = useRef<{ sound: LiveSound; song: SoundingSong; files: string } | null>(null);
  useEffect(() => {
    if (sound === null || song === null || treatment === null) return;
    const live = liveTreatment(treatment);
    const files = filesOf(live);
    const goesOn = before.current?.sound === sound;
    if (goesOn && (before.current?.song !== song || before.current.files !== files)) {
      const { songIsToPlay, songNow } = sound;
      sound.setSong({ treatment: live, frameCount: song.frameCount });
      sound.locate(Math.min(songNow.position, song.frameCount));
      if (songIsToPlay) sound.play();
    } else sound.setTreatment(live);
    before.current = { sound, song, files };
  }, [sound, song, treatment]);
}

function filesOf({ kick, bass, rest }: Treatment): string {
  return JSON.stringify([kick, bass, rest].map(({ tracks }) => tracks.map(({ file }) => file)));
}

/** What is heard of the song, and through what. A blind compare switches by itself; when it is over, all is set as it was. */
function useHearing(sound: LiveSound | null, blind: boolean, { listening, match_dB }: Heard): void {
  const { side, solo, difference, speaker, mono } = listening;
  useEffect(() => {
    if (!blind) sound?.monitor.hear({ side, solo, difference, match_dB });
  }, [sound, blind, side, solo, difference, match_dB]);
  useEffect(() => sound?.setLane(solo === 'low lane' ? 'low' : solo === 'high lane' ? 'high' : null), [sound, solo]);
  useEffect(() => sound?.monitor.through(speaker, mono), [sound, speaker, mono]);
}

function useMonitor(sound: LiveSound | null, monitor_dB: number): void {
  const atFirst = useRef(monitor_dB);
  useEffect(() => {
    // the safe start has its own slow ramp: only what is chosen afterwards moves the level
    if (monitor_dB !== atFirst.current) sound?.monitor.setLevel(monitor_dB);
    atFirst.current = monitor_dB;
  }, [sound, monitor_dB]);
}
