import type { ReactNode } from 'react';
import { comeIntoView } from '../design/come-into-view.js';
import type { StripLoop } from '../strip/SongStrip.js';
import { Choice } from './Choice.js';
import type { HeardMatch } from './heard-match.js';
import type { Listening } from './listening.js';
import { SOLO_CHOICES, stageLabel } from './listening-labels.js';
import { chosenLoop, type LoopChoice } from './loop-choices.js';
import type { NoteThrough } from './note-through.js';
import { ReferenceChoice, type ReferencePlace, type ReferenceRow } from './ReferenceChoice.js';
import { sayMatch } from './say-match.js';
import { SideChoice } from './SideChoice.js';
import { SoloStrands } from './SoloStrands.js';
import { ThroughSpeaker } from './ThroughSpeaker.js';

export interface ListeningSheetProps {
  readonly listening: Listening;
  readonly heard: HeardMatch;
  readonly note: NoteThrough | null;
  readonly loops: readonly LoopChoice[];
  readonly loop: StripLoop | null;
  readonly references: readonly ReferenceRow[];
  readonly referencePlace: ReferencePlace | null;
  /** A blind compare is under way: how it is heard is fixed. */
  readonly fixed: boolean;
  readonly onChange: (change: Partial<Listening>) => void;
  readonly onLoop: (loop: StripLoop | null) => void;
  /** The blind compare. */
  readonly children: ReactNode;
}

/** Drawn up over the working columns: everything about how the song is listened to. */
export function ListeningSheet(props: ListeningSheetProps) {
  return (
    <section className="listen-sheet" aria-label="Listening" ref={comeIntoView}>
      <Hear {...props} />
      <ThroughSpeaker {...props} />
      <div>{props.children}</div>
    </section>
  );
}

const KINDS = [
  { id: 'as it is', label: 'As it is' },
  { id: 'difference', label: 'Only what was taken or added' },
] as const;

function Hear({ listening, heard, fixed, onChange, ...props }: ListeningSheetProps) {
  const { difference, reference, solo, side } = listening;
  return (
    <fieldset disabled={fixed}>
      <h2>
        Listen{' '}
        <small>{fixed ? 'fixed while the compare is open' : 'everything switches without a gap or a click'}</small>
      </h2>
      <h3>Hear</h3>
      {!fixed && (
        <SideChoice side={side} onSide={(next) => onChange({ side: next, difference: false, reference: null })} />
      )}
      <Choice
        name="As it is, or the difference"
        choices={KINDS}
        chosen={difference ? 'difference' : 'as it is'}
        onChoose={(id) => onChange({ difference: id === 'difference', reference: null })}
      />
      <p>{sayWhatIsHeard(listening, heard)}</p>
      <h3>
        Solo <small>a strand, or a name</small>
      </h3>
      <SoloStrands solo={solo} onSolo={(next) => onChange({ solo: next })} />
      <Choice name="Solo" choices={SOLO_CHOICES} chosen={solo} onChoose={(next) => onChange({ solo: next })} />
      <Loops {...props} />
      <ReferenceChoice
        rows={props.references}
        chosen={reference}
        place={props.referencePlace}
        onChoose={(file) => onChange({ reference: file, difference: false })}
      />
    </fieldset>
  );
}

function sayWhatIsHeard(listening: Listening, heard: HeardMatch): string {
  if (listening.reference !== null) return 'A reference is heard, matched to the song in loudness.';
  if (listening.difference)
    return 'Treated less source, at its own level: not matched. What was taken sounds upside down.';
  const without = listening.without === null ? '' : ` Without ${stageLabel(listening.without)}.`;
  return `${sayMatch(heard)}${without}`;
}

function Loops({ loops, loop, onLoop }: Pick<ListeningSheetProps, 'loops' | 'loop' | 'onLoop'>) {
  const chosen = chosenLoop(loops, loop);
  const other = loop !== null && chosen === null;
  return (
    <>
      <h3>
        Loop <small>Shift and drag on the strip draws one, or a finger that rests, then moves</small>
      </h3>
      <Choice
        name="Loop"
        choices={[
          { id: 'off', label: 'Off' },
          ...loops.map(({ id, label }) => ({ id, label })),
          ...(other ? [{ id: 'other', label: 'As set' }] : []),
        ]}
        chosen={chosen?.id ?? (other ? 'other' : 'off')}
        onChoose={(id) => id !== 'other' && onLoop(loops.find((one) => one.id === id)?.loop ?? null)}
      />
    </>
  );
}
