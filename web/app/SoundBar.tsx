import type { ReactNode } from 'react';
import type { SoundingSong } from '../../protocol/sound-request.js';
import type { Match } from '../listen/listening.js';
import { ListeningBar } from '../listen/ListeningBar.js';
import { ListeningSheet } from '../listen/ListeningSheet.js';
import type { StripLoop } from '../strip/SongStrip.js';
import type { StripSong } from '../strip/strip-song.js';
import { useKey } from '../keys/use-keys.js';
import { barAndBeat } from './bar-and-beat.js';
import type { LiveListening } from './use-live-sound.js';
import { usePlayback } from './seen-playback.js';
import { useSoundKeys } from './use-sound-keys.js';

export interface SoundBarProps {
  readonly live: LiveListening;
  readonly match: Match;
  /** Null while the song is measured. */
  readonly strip: StripSong | null;
  readonly sounding: SoundingSong;
  readonly loop: StripLoop | null;
  /** What L brings back. */
  readonly loopBefore: StripLoop;
  readonly sheetOpen: boolean;
  /** The title block. */
  readonly children: ReactNode;
  onSheet(): void;
  onLoop(loop: StripLoop | null): void;
}

/** The listening bar, and the sheet drawn up from it, with the sound behind them. */
export function SoundBar(props: SoundBarProps) {
  const { live, match, strip, sounding, loop, sheetOpen, onSheet } = props;
  const { listening, trouble } = live;
  const playback = usePlayback(live.playback);
  const position_s = playback.position / sounding.sampleRate_Hz;
  useSoundKeys({
    live,
    position_s,
    duration_s: sounding.frameCount / sounding.sampleRate_Hz,
    beat_s: strip?.beat_s ?? UNMEASURED_BEAT_S,
    loop,
    loopBefore: props.loopBefore,
    onLoop: props.onLoop,
    onSheet,
  });
  useKey('close', sheetOpen ? onSheet : null);
  const heardMatch = listening.solo === 'all' ? match : null;
  return (
    <>
      {sheetOpen && (
        <ListeningSheet
          {...{ listening, match: heardMatch, note: null, references: [], reference: '' }}
          loops={loop === null ? [] : [CHOSEN]}
          loop={loop === null ? OFF : CHOSEN.id}
          onChange={live.change}
          onLoop={(id) => id === OFF && props.onLoop(null)}
          onReference={() => undefined}
        >
          {null}
        </ListeningSheet>
      )}
      <ListeningBar
        {...{ listening, match: heardMatch, position_s, trouble, sheetOpen, onSheet }}
        playing={playback.playing}
        bar={strip === null ? null : barAndBeat(strip, position_s)}
        loop={loop === null ? null : sayLoop(strip, loop)}
        onPlay={live.toggle}
        onChange={live.change}
      >
        {props.children}
      </ListeningBar>
    </>
  );
}

/** What loops are stepped by until the tempo is known. */
const UNMEASURED_BEAT_S = 0.5;
const OFF = '';
const CHOSEN = { id: 'chosen', label: 'What is chosen in the strip' };

function sayLoop(strip: StripSong | null, [from_s, to_s]: StripLoop): string {
  const place = (time_s: number) => (strip === null ? null : barAndBeat(strip, time_s));
  const [from, to] = [place(from_s), place(to_s)];
  return from === null || to === null ? `${from_s.toFixed(1)} to ${to_s.toFixed(1)}\u00a0s` : `${from} to ${to}`;
}
