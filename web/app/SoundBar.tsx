import type { ReactNode } from 'react';
import type { Finding } from '../../core/findings/finding.js';
import type { Measurements } from '../../core/measure/measurements.js';
import type { BlindCompareRecord } from '../../core/session/session-format.js';
import type { InspectedSong } from '../../protocol/job-messages.js';
import type { SoundingSong } from '../../protocol/sound-request.js';
import { BlindPanel } from '../listen/BlindPanel.js';
import { blindRefusal } from '../listen/blind-refusal.js';
import { gainToApply_dB } from '../listen/heard-match.js';
import { ListeningBar } from '../listen/ListeningBar.js';
import { ListeningSheet } from '../listen/ListeningSheet.js';
import { sayConditions, stageLabel } from '../listen/listening-labels.js';
import { loopChoices } from '../listen/loop-choices.js';
import { noteThrough } from '../listen/note-through.js';
import type { StripLoop } from '../strip/SongStrip.js';
import type { StripSong } from '../strip/strip-song.js';
import { useKey } from '../keys/use-keys.js';
import { barAndBeat } from './bar-and-beat.js';
import { seenPosition, usePlayback } from './seen-playback.js';
import { useBlindCompare } from './use-blind-compare.js';
import type { LiveListening } from './use-live-sound.js';
import { useHeardReference, type AskForLoudness } from './use-references.js';
import { useSoundKeys } from './use-sound-keys.js';

export interface SoundBarProps {
  readonly live: LiveListening;
  /** Null while the song is measured. */
  readonly strip: StripSong | null;
  readonly song: InspectedSong | null;
  /** The treated song as it was measured; null where nothing is solved. */
  readonly after: Measurements | null;
  readonly sounding: SoundingSong;
  /** The finding that is open, with its number. */
  readonly finding: { readonly finding: Finding; readonly number: number } | null;
  readonly loop: StripLoop | null;
  /** What L brings back. */
  readonly loopBefore: StripLoop | null;
  readonly inSight: StripLoop;
  readonly sheetOpen: boolean;
  readonly compares: readonly BlindCompareRecord[];
  readonly askLoudness: AskForLoudness;
  /** The title block. */
  readonly children: ReactNode;
  onSheet(open: boolean): void;
  onLoop(loop: StripLoop | null): void;
  onCompare(record: BlindCompareRecord): void;
}

/** The listening bar, and the sheet drawn up from it, with the sound behind them. */
export function SoundBar(props: SoundBarProps) {
  const { live, strip, sounding, loop, sheetOpen } = props;
  const { listening } = live;
  const playback = usePlayback(live.playback);
  const reference = useHeardReference(live, playback, props.song, sounding, props.askLoudness);
  const compare = useBlindCompare(live, props.onCompare);
  const position = seenPosition(reference.heard === null ? playback : live.sound!.songNow);
  const position_s = position / sounding.sampleRate_Hz;
  const onSheet = () => {
    if (sheetOpen) compare.close();
    props.onSheet(!sheetOpen);
  };
  useSoundKeys({
    live,
    position_s,
    duration_s: sounding.frameCount / sounding.sampleRate_Hz,
    beat_s: strip?.beat_s ?? UNMEASURED_BEAT_S,
    loop,
    references: reference.rows.map(({ file }) => file),
    loopBefore: props.loopBefore ?? props.inSight,
    onLoop: props.onLoop,
    onSheet,
    onCompare: () => props.onSheet(true),
  });
  useKey('close', sheetOpen ? onSheet : null);
  const heardAt_s = reference.place?.position_s ?? position_s;
  const loopWords = loop === null ? null : sayLoop(strip, loop);
  const terms = {
    ...{ a: 'source', b: bSide(live) },
    conditions: sayConditions(listening, loopWords),
    match_dB: gainToApply_dB(live.heard.match),
  };
  return (
    <>
      {sheetOpen && (
        <ListeningSheet
          {...{ listening, loop, heard: live.heard, references: reference.rows, referencePlace: reference.place }}
          note={noteAtPlace(props, position_s)}
          loops={loopsOf(props, position_s)}
          fixed={compare.underWay}
          onChange={live.change}
          onLoop={props.onLoop}
        >
          <BlindPanel
            terms={terms}
            refusal={blindRefusal(listening, live.heard, live.sound !== null)}
            run={compare.run}
            kept={props.compares}
            playing={playback.playing}
            onBegin={(trials) => compare.begin({ ...terms, trials })}
            onEnd={compare.end}
            onClose={compare.close}
            onPause={live.toggle}
          />
        </ListeningSheet>
      )}
      <ListeningBar
        {...{ listening, sheetOpen, onSheet, trouble: live.trouble, heard: live.heard, position_s: heardAt_s }}
        reference={reference.heard}
        blind={compare.underWay}
        playing={playback.playing}
        bar={strip === null || reference.heard !== null ? null : barAndBeat(strip, position_s)}
        loop={loopWords}
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

function bSide({ listening }: LiveListening): string {
  return listening.without === null ? 'treated' : `treated without ${stageLabel(listening.without)}`;
}

function noteAtPlace({ song, after, live }: SoundBarProps, position_s: number) {
  return song === null ? null : noteThrough(song.measured, after, live.listening, live.placed_s ?? position_s);
}

function loopsOf({ strip, finding, live, loopBefore }: SoundBarProps, position_s: number) {
  if (strip === null) return [];
  const drawn = loopBefore === null ? null : { loop: loopBefore, label: sayLoop(strip, loopBefore) };
  return loopChoices({ song: strip, finding, place_s: live.placed_s ?? position_s, drawn });
}

function sayLoop(strip: StripSong | null, [from_s, to_s]: StripLoop): string {
  const place = (time_s: number) => (strip === null ? null : barAndBeat(strip, time_s));
  const [from, to] = [place(from_s), place(to_s)];
  return from === null || to === null ? `${from_s.toFixed(1)} to ${to_s.toFixed(1)}\u00a0s` : `${from} to ${to}`;
}
