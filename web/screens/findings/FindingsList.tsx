import { FINDINGS } from '../../../core/findings/finding-registry.js';
import { sayFigure } from '../../../core/findings/say-figure.js';
import { Balloon } from '../../marks/Balloon.js';
import { findingStanding } from './finding-standing.js';
import type { FindingsScreenProps } from './FindingsScreen.js';
import { withStrongFigures } from './strong-figures.js';

/** Findings in order of what they cost; what was looked for and not there; what could not be judged. */
export function FindingsList(props: FindingsScreenProps) {
  const { faults, chosen, onChoose, decisions, faultsAfter } = props;
  return (
    <section className="findings-list" aria-label="Findings">
      <h2>
        Findings <small>in order of what they cost</small>
      </h2>
      <ol>
        {faults.findings.map((finding, i) => {
          const standing = findingStanding(faults.findings, i, decisions, faultsAfter);
          const isChosen = i === chosen;
          return (
            <li key={`${finding.id} ${i}`} data-chosen={isChosen}>
              <button type="button" aria-current={isChosen} onClick={() => onChoose(i)}>
                <Balloon mark={String(i + 1)} chosen={isChosen} />
                <span className="finding-words">
                  <span className="seen-by-ear">Finding {i + 1}. </span>
                  <span className="finding-sentence">{withStrongFigures(finding.sentence)}</span>{' '}
                  <span className="finding-standing">{standing.words}</span>
                  {isChosen && <span className="finding-cost">{costOf(finding.severity)}</span>}
                </span>
              </button>
            </li>
          );
        })}
      </ol>
      <NotThere {...props} />
    </section>
  );
}

function costOf(severity: number): string {
  if (severity >= 3) return 'three tolerances or more beyond the tolerance';
  return `${sayFigure(severity, severity.toFixed(1) === '1.0' ? 'tolerance' : 'tolerances')} beyond the tolerance`;
}

function NotThere({ faults }: FindingsScreenProps) {
  const names = faults.lookedForAndNotThere;
  return (
    <div className="findings-not-there">
      {names.length > 0 && <p>Looked for and not there: {names.join(', ')}.</p>}
      {faults.unjudged.length > 0 && (
        <ul aria-label="Not judged">
          {faults.unjudged.map(({ id, reason }) => (
            <li key={id}>
              Not judged, {FINDINGS.find((declaration) => declaration.id === id)?.name ?? id}: {reason}.
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
