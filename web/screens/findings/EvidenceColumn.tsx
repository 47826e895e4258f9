import { useMemo } from 'react';
import { Button, ToggleButton } from 'react-aria-components';
import type { Finding } from '../../../core/findings/finding.js';
import type { Measurements } from '../../../core/measure/measurements.js';
import { FINDINGS } from '../../../core/findings/finding-registry.js';
import { EvidenceFigure } from '../../evidence/EvidenceFigure.js';
import { evidenceOf } from '../../evidence/evidence-registry.js';
import { KeyCap } from '../../keys/KeyCap.js';
import { useKey } from '../../keys/use-keys.js';
import { stretchText } from '../../strip/beat-grid.js';
import type { StripSong } from '../../strip/strip-song.js';
import { hearingStretch } from './hearing-stretch.js';

interface EvidenceColumnProps {
  readonly finding: Finding;
  readonly number: number;
  readonly measured: Measurements;
  readonly after: Measurements | null;
  readonly song: StripSong;
  readonly asTable: boolean;
  readonly onAsTable: (asTable: boolean) => void;
  readonly onHear?: (from_s: number, to_s: number) => void;
  readonly onGoTo?: (time_s: number) => void;
}

/** The evidence of the chosen finding: its figures, or the same as tables. */
export function EvidenceColumn(props: EvidenceColumnProps) {
  const { finding, measured, after, song, asTable } = props;
  const panels = useMemo(() => evidenceOf({ finding, measured, after }), [finding, measured, after]);
  const stretch = useMemo(() => hearingStretch(finding, song.grid, song.duration_s), [finding, song]);
  const help = FINDINGS.find(({ id }) => id === finding.id)?.help;
  const hear = props.onHear;
  useKey('hear', stretch !== null && hear !== undefined ? () => hear(stretch[0], stretch[1]) : null);
  useKey('table', () => props.onAsTable(!asTable));
  return (
    <section className="findings-evidence" aria-label={`Evidence for finding ${props.number}`}>
      <header>
        <h2>Evidence for {props.number}</h2>
        {stretch !== null && hear !== undefined && (
          <Button className="word-button slim" onPress={() => hear(stretch[0], stretch[1])}>
            Hear it, {stretchText(song.grid, stretch[0], stretch[1])}
            <KeyCap action="hear" />
          </Button>
        )}
        <ToggleButton className="word-button slim" isSelected={asTable} onChange={props.onAsTable}>
          As a table
          <KeyCap action="table" />
        </ToggleButton>
      </header>
      {panels.map((panel) => (
        <EvidenceFigure
          key={panel.heading}
          panel={panel}
          asTable={asTable}
          {...(props.onGoTo ? { onGoTo: props.onGoTo } : {})}
        />
      ))}
      {help !== undefined && (
        <details className="findings-help">
          <summary>How it is judged</summary>
          <p>{help}</p>
        </details>
      )}
    </section>
  );
}
