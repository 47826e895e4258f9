import type { ReactNode } from 'react';
import { SideChoice } from './SideChoice.js';
import { MonitorGain } from './MonitorGain.js';
import { sayMonitor, sayTime, type Listening, type Match } from './listening.js';
import { soloLabel, speakerLabel } from './listening-labels.js';
import { gainToApply_dB, sayGain } from './say-match.js';
import './listen.css';

export interface ListeningBarProps {
  readonly listening: Listening;
  readonly match: Match;
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
  const { listening, match, playing, position_s, bar, loop, onChange } = props;
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
      <div>
        <span className="listen-name">
          {listening.difference ? (
            'Hear the difference, not matched'
          ) : (
            <>
              Hear, level-matched by <b>{sayGain(gainToApply_dB(match))}</b>
            </>
          )}
        </span>
        <SideChoice side={listening.side} onSide={(side) => onChange({ side, difference: false })} />
      </div>
      <Told name="Solo" value={soloLabel(listening.solo)} />
      <Told name="Through" value={`${speakerLabel(listening.speaker)}${listening.mono ? ', mono' : ''}`} narrow />
      <Told name="Loop" value={loop ?? 'off'} narrow />
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

function Told({
  name,
  value,
  narrow = false,
}: {
  readonly name: string;
  readonly value: string;
  readonly narrow?: boolean;
}) {
  return (
    <div className={narrow ? 'listen-wide' : undefined}>
      <span className="listen-name">{name}</span>
      <span className="listen-value">{value}</span>
    </div>
  );
}
