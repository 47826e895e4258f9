import { LOCK_dB, SAFE_START_dB } from '../audio/monitor-level.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { Choice } from './Choice.js';
import { sayMonitor, type Listening } from './listening.js';
import { SPEAKERS } from './listening-labels.js';
import { MonitorGain } from './MonitorGain.js';
import { sayNoteThrough, type NoteThrough } from './note-through.js';
import { ListenFigure } from './ListenFigure.js';
import { speakerDrawing } from './speaker-drawing.js';

interface ThroughSpeakerProps {
  readonly listening: Listening;
  readonly note: NoteThrough | null;
  readonly fixed: boolean;
  onChange(change: Partial<Listening>): void;
}

const HEIGHT = 172;

/** Through which loudspeaker, in mono or not, and how loud. */
export function ThroughSpeaker({ listening, note, fixed, onChange }: ThroughSpeakerProps) {
  const { speaker, mono, monitor_dB, unlocked } = listening;
  const unlock = (on: boolean) =>
    onChange(on ? { unlocked: true } : { unlocked: false, monitor_dB: Math.min(monitor_dB, LOCK_dB) });
  return (
    <div>
      <fieldset disabled={fixed}>
        <h2>
          Through <small>small-loudspeaker models, on the monitor only</small>
        </h2>
        <Choice name="Loudspeaker" choices={SPEAKERS} chosen={speaker} onChoose={(id) => onChange({ speaker: id })} />
        <label className="listen-tick">
          <input type="checkbox" checked={mono} onChange={(event) => onChange({ mono: event.target.checked })} />
          In mono <small>a small loudspeaker sums both sides anyway</small>
        </label>
      </fieldset>
      <ListenFigure height={HEIGHT} says={`Loudspeaker models in dB over frequency in Hz. ${sayNoteThrough(note)}`}>
        {(width) => <DrawingSvg drawing={speakerDrawing(speaker, note, width, HEIGHT)} />}
      </ListenFigure>
      <p>{sayNoteThrough(note)} Levels of the note as it came, at the listening place.</p>
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
