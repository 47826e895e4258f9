import type { ReactNode } from 'react';
import type { HeardMatch } from './heard-match.js';
import { SideChoice } from './SideChoice.js';
import { MonitorGain } from './MonitorGain.js';
import { sayMonitor, sayTime, type Listening } from './listening.js';
import { soloLabel, speakerLabel, stageLabel } from './listening-labels.js';
import { sayGain, sayHeard } from './say-match.js';
import './listen.css';

export interface ListeningBarProps {
  readonly listening: Listening;
  readonly heard: HeardMatch;
  /** The reference that is heard instead of the song, by name, with its gain; null for the song. */
  readonly reference: { readonly name: string; readonly gain_dB: number | null } | null;
  /** A blind compare is under way: what is heard is not told. */
  readonly blind: boolean;
  readonly playing: boolean;
  readonly position_s: number;
  /** Bar and beat at the place, where there is a grid: `34.2`. */
  readonly bar: string | null;
  /** What is looped, in words; null for nothing. */
  readonly loop: string | null;
  /** What the sound has refused, if anything. */
  readonly trouble: string | null;
  readonly sheetOpen: boolean;
  readonly onPlay: () => void;
  readonly onChange: (change: Partial<Listening>) => void;
  readonly onSheet: () => void;
  /** The title block: song, sheet, version, saved. */
  readonly children?: ReactNode;
}

/** The listening bar at the foot of every sheet. */
export function ListeningBar(props: ListeningBarProps) {
  const { listening, playing, position_s, bar, loop, onChange } = props;
  return (
    <footer className="listen-bar" aria-label="Listening">
      <div>
        <button type="button" className="listen-play" onClick={props.onPlay} aria-keyshortcuts="Space">
          {playing ? 'Pause' : 'Play'}
        </button>
      </div>
      <div>
        <span className="listen-name">At</span>
        <span className="listen-value">
          {bar !== null && <b>{bar} </b>}
          <span className="listen-dim">{sayTime(position_s)}</span>
        </span>
      </div>
      <div className="listen-hear">
        <Hear {...props} />
      </div>
      <Told name="Solo" value={soloLabel(listening.solo)} className="listen-solo" />
      <Told
        name="Through"
        value={`${speakerLabel(listening.speaker)}${listening.mono ? ', mono' : ''}`}
        className="listen-wide"
      />
      <Told name="Loop" value={loop ?? 'off'} className="listen-wide" />
      <div className="listen-wide">
        <span className="listen-name">
          Monitor <b>{sayMonitor(listening.monitor_dB)}</b>, safe start, limited
        </span>
        <MonitorGain listening={listening} onChange={onChange} />
      </div>
      <div className="listen-open">
        <button type="button" aria-expanded={props.sheetOpen} onClick={props.onSheet}>
          {props.sheetOpen ? 'Close listening' : 'Listening'}
        </button>
        {props.trouble !== null && <span role="status">{props.trouble}</span>}
      </div>
      {props.children}
    </footer>
  );
}

function Hear({ listening, heard, reference, blind, onChange }: ListeningBarProps) {
  if (blind) {
    return (
      <>
        <span className="listen-name">Hear</span>
        <span className="listen-value">Blind compare</span>
      </>
    );
  }
  if (reference !== null) {
    const { name, gain_dB } = reference;
    return (
      <>
        <span className="listen-name">
          {gain_dB === null ? 'Measuring its loudness' : 'Reference, matched by '}
          {gain_dB !== null && <b>{sayGain(gain_dB)}</b>}
        </span>
        <span className="listen-back">
          <span className="listen-value listen-cut">{name}</span>
          <button type="button" onClick={() => onChange({ reference: null })}>
            Back to the song
          </button>
        </span>
      </>
    );
  }
  const { words, figure } = sayHeard(listening, heard);
  return (
    <>
      <span className="listen-name">
        {words}
        {figure !== '' && <b> {figure}</b>}
        {listening.without !== null && `, without ${stageLabel(listening.without)}`}
      </span>
      <SideChoice side={listening.side} onSide={(side) => onChange({ side, difference: false })} />
    </>
  );
}

function Told({
  name,
  value,
  className,
}: {
  readonly name: string;
  readonly value: string;
  readonly className: string;
}) {
  return (
    <div className={className}>
      <span className="listen-name">{name}</span>
      <span className="listen-value">{value}</span>
    </div>
  );
}
