import type { ReactNode } from 'react';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { LOCK_dB, SAFE_START_dB } from '../audio/monitor-level.js';
import { Choice } from './Choice.js';
import { MonitorGain } from './MonitorGain.js';
import { SideChoice } from './SideChoice.js';
import { sayMonitor, type Listening, type Match } from './listening.js';
import { SOLO_CHOICES, SPEAKERS } from './listening-labels.js';
import { sayMatch } from './say-match.js';
import { sayNoteThrough, speakerDrawing, type NoteThrough } from './speaker-drawing.js';

/** A stretch that can be looped, named as the engineer knows it: `Bars 33 to 40`, `Finding 1`, `One hit`. */
export interface LoopChoice {
  readonly id: string;
  readonly label: string;
}

/** A finished record beside the song, with the gain that makes it as loud. */
export interface ReferenceChoice {
  readonly file: string;
  readonly label: string;
}

export interface ListeningSheetProps {
  readonly listening: Listening;
  readonly match: Match;
  readonly note: NoteThrough | null;
  readonly loops: readonly LoopChoice[];
  readonly loop: string;
  readonly references: readonly ReferenceChoice[];
  readonly reference: string;
  readonly onChange: (change: Partial<Listening>) => void;
  readonly onLoop: (id: string) => void;
  readonly onReference: (file: string) => void;
  /** The blind compare. */
  readonly children: ReactNode;
}

/** Drawn up over the working columns: everything about how the song is listened to. */
export function ListeningSheet(props: ListeningSheetProps) {
  return (
    <section className="listen-sheet" aria-label="Listening">
      <Hear {...props} />
      <Through {...props} />
      <div>{props.children}</div>
    </section>
  );
}

const KINDS = [
  { id: 'as it is', label: 'As it is' },
  { id: 'difference', label: 'Only what was taken or added' },
] as const;

function Hear({ listening, match, loops, loop, references, reference, ...props }: ListeningSheetProps) {
  const { onChange } = props;
  return (
    <div>
      <h2>
        Listen <small>everything switches without a gap or a click</small>
      </h2>
      <h3>Hear</h3>
      <SideChoice side={listening.side} onSide={(side) => onChange({ side, difference: false })} />
      <Choice
        name="As it is, or the difference"
        choices={KINDS}
        chosen={listening.difference ? 'difference' : 'as it is'}
        onChoose={(id) => onChange({ difference: id === 'difference' })}
      />
      <p>{listening.difference ? 'Treated less source, at its own level: not matched.' : sayMatch(match)}</p>
      <h3>Solo</h3>
      <Choice name="Solo" choices={SOLO_CHOICES} chosen={listening.solo} onChoose={(solo) => onChange({ solo })} />
      <h3>Loop</h3>
      <Choice name="Loop" choices={[{ id: '', label: 'Off' }, ...loops]} chosen={loop} onChoose={props.onLoop} />
      <h3>
        References <small>matched in loudness</small>
      </h3>
      {references.length === 0 ? (
        <p>None: put a finished record among the stems, with the role of reference.</p>
      ) : (
        <Choice
          name="References"
          choices={[{ id: '', label: 'None' }, ...references.map(({ file, label }) => ({ id: file, label }))]}
          chosen={reference}
          onChoose={props.onReference}
        />
      )}
    </div>
  );
}

const FIGURE = { width: 420, height: 200 };

function Through({ listening, note, onChange }: ListeningSheetProps) {
  const { speaker, mono, monitor_dB, unlocked } = listening;
  const unlock = (on: boolean) =>
    onChange(on ? { unlocked: true } : { unlocked: false, monitor_dB: Math.min(monitor_dB, LOCK_dB) });
  return (
    <div>
      <h2>
        Through <small>small-loudspeaker models, on the monitor only</small>
      </h2>
      <Choice name="Loudspeaker" choices={SPEAKERS} chosen={speaker} onChoose={(id) => onChange({ speaker: id })} />
      <label className="listen-tick">
        <input type="checkbox" checked={mono} onChange={(event) => onChange({ mono: event.target.checked })} />
        In mono <small>a small loudspeaker sums both sides anyway</small>
      </label>
      <svg
        className="listen-figure"
        viewBox={`0 0 ${FIGURE.width} ${FIGURE.height}`}
        role="img"
        aria-label={`Loudspeaker models in dB over frequency in Hz. ${sayNoteThrough(note)}`}
      >
        <DrawingSvg drawing={speakerDrawing(speaker, note, FIGURE.width, FIGURE.height)} />
      </svg>
      <p>{sayNoteThrough(note)}</p>
      <h3>
        Monitor gain <b>{sayMonitor(monitor_dB)}</b>{' '}
        <small>
          starts at {sayMonitor(SAFE_START_dB)}, rises over 2 s, limited; above {sayMonitor(LOCK_dB)} only when unlocked
        </small>
      </h3>
      <MonitorGain listening={listening} onChange={onChange} />
      <label className="listen-tick">
        <input type="checkbox" checked={unlocked} onChange={(event) => unlock(event.target.checked)} />
        Unlock up to {sayMonitor(0)}
      </label>
      <p className="listen-caution">
        Loud lows damage hearing and drivers before they sound loud. Keep to 85 dBA, 8 hours a day, or less; the rules
        where you work and qualified advice come first.
      </p>
    </div>
  );
}
