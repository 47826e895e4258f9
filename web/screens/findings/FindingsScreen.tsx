import { useMemo, useState } from 'react';
import type { Faults } from '../../../core/findings/find-faults.js';
import type { Measurements } from '../../../core/measure/measurements.js';
import type { Wish } from '../../../core/wishes/wish.js';
import type { Solution } from '../../../core/solve/solve-song.js';
import { useNextFrame } from '../../design/use-next-frame.js';
import type { StripSong } from '../../strip/strip-song.js';
import { EvidenceColumn } from './EvidenceColumn.js';
import type { FindingDecision } from './finding-standing.js';
import { FindingsList } from './FindingsList.js';
import { MeasuresTable } from './MeasuresTable.js';
import { MendingColumn } from './MendingColumn.js';
import './findings.css';

export interface FindingsScreenProps {
  readonly song: StripSong;
  readonly measured: Measurements;
  readonly faults: Faults;
  readonly decisions: readonly FindingDecision[];
  /** What has been solved, and the faults found in it; null before. */
  readonly solution: Pick<Solution, 'stages' | 'after' | 'rows'> | null;
  readonly faultsAfter: Faults | null;
  /** Place of the chosen finding in the list. */
  readonly chosen: number;
  readonly onChoose: (index: number) => void;
  /** False in a tab that only reads. */
  readonly mayDecide?: boolean;
  /** Null takes a decision back. */
  readonly onDecide: (finding: string, action: FindingDecision['action'] | null, reason: string) => void;
  /** Wishes that stand, by their statistic, and what changes one. */
  readonly wishes?: ReadonlyMap<string, Wish>;
  readonly onWish?: (wish: Wish) => void;
  /** Loop there and play. */
  readonly onHear?: (from_s: number, to_s: number) => void;
  /** Show a time in the strip: a hit or note read in a figure. */
  readonly onGoTo?: (time_s: number) => void;
  /** The evidence as a table; kept here where it is not given. */
  readonly asTable?: boolean;
  readonly onAsTable?: (asTable: boolean) => void;
}

/** The findings, the evidence of the chosen one, what would mend it and the six measures. */
export function FindingsScreen(props: FindingsScreenProps) {
  const { faults, measured, solution } = props;
  const [ownTable, setOwnTable] = useState(false);
  const asTable = props.asTable ?? ownTable;
  const chosen = Math.min(props.chosen, faults.findings.length - 1);
  const finding = faults.findings[chosen];
  const after = useMemo(() => solution?.after ?? null, [solution]);
  const findingsStand = useNextFrame();
  return (
    <main className="findings">
      <FindingsList {...props} chosen={chosen} />
      {finding === undefined ? (
        <section className="findings-evidence" aria-label="Evidence">
          <h2>Evidence</h2>
          <p className="findings-sentence">Nothing to mend: every measure lies within its tolerance.</p>
        </section>
      ) : (
        <EvidenceColumn
          key={`${finding.id} ${chosen}`}
          {...{ finding, measured, after, asTable }}
          number={chosen + 1}
          song={props.song}
          onAsTable={props.onAsTable ?? setOwnTable}
          {...(props.onHear ? { onHear: props.onHear } : {})}
          {...(props.onGoTo ? { onGoTo: props.onGoTo } : {})}
        />
      )}
      <div className="findings-mending">
        {findingsStand && finding !== undefined && (
          <MendingColumn
            key={`${finding.id} ${chosen}`}
            finding={finding}
            solution={solution}
            mayDecide={props.mayDecide ?? true}
            decision={props.decisions.find((decision) => decision.finding === finding.id) ?? null}
            onDecide={(action, reason) => props.onDecide(finding.id, action, reason)}
          />
        )}
        {findingsStand && (
          <MeasuresTable
            measured={measured}
            treated={after}
            {...(props.wishes === undefined ? {} : { wishes: props.wishes })}
            {...(props.onWish === undefined ? {} : { onWish: props.onWish })}
          />
        )}
      </div>
    </main>
  );
}
