import { FINDINGS } from '../../../core/findings/finding-registry.js';
import { sayFigure } from '../../../core/findings/say-figure.js';
import { Balloon } from '../../marks/Balloon.js';
import { useWindowSize } from '../../strip/use-window-size.js';
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
      <ol data-many={faults.findings.length > MANY}>
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
                  <Standing words={standing.words} />
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

/** What was decided; its second half folds away where a finding has one line. */
function Standing({ words }: { readonly words: string }) {
  const [word, ...more] = words.split(/(?=:)/);
  return (
    <span className="finding-standing">
      {word}
      <span className="finding-standing-more">{more.join('')}</span>
    </span>
  );
}

/** On a low window more than these fold to a line each. */
const MANY = 4;

function costOf(severity: number): string {
  if (severity >= 3) return 'three tolerances or more beyond the tolerance';
  return `${sayFigure(severity, severity.toFixed(1) === '1.0' ? 'tolerance' : 'tolerances')} beyond the tolerance`;
}

/** What was looked for and not there, and what could not be judged; folded away on a low window. */
function NotThere({ faults }: FindingsScreenProps) {
  const low = useWindowSize().height < LOW_px;
  const names = faults.lookedForAndNotThere;
  const { unjudged } = faults;
  if (names.length + unjudged.length === 0) return null;
  const words = (
    <>
      {names.length > 0 && <p>Looked for and not there: {names.join(', ')}.</p>}
      {unjudged.length > 0 && (
        <ul aria-label="Not judged">
          {unjudged.map(({ id, reason }) => (
            <li key={id}>
              Not judged, {FINDINGS.find((declaration) => declaration.id === id)?.name ?? id}: {reason}.
            </li>
          ))}
        </ul>
      )}
    </>
  );
  if (!low) return <div className="findings-not-there">{words}</div>;
  return (
    <details className="findings-not-there">
      <summary>
        Looked for and not there: {names.length}
        {unjudged.length > 0 && `; not judged: ${unjudged.length}`}
      </summary>
      {words}
    </details>
  );
}

const LOW_px = 800;
