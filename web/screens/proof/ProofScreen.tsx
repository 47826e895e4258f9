import { useEffect, useRef, useState } from 'react';
import { reachedStages } from '../../../core/job/reached-stages.js';
import type { SongProof } from '../../../core/job/prove-song.js';
import type { Treatment } from '../../../core/treatment/treatment.js';
import { isMeasured, valueOf } from '../../../core/units/reading.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';
import { parseAddress } from '../../../core/treatment/paths.js';
import { shortfall } from '../../../core/wishes/wish-text.js';
import { sayValue } from '../../fields/say-value.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { measureRows } from '../findings/measure-rows.js';
import type { PathSolution } from '../path/path-solution.js';
import { sayWish, sayWished, shownUnit } from '../path/stage-words.js';
import { coveredHits } from './hits-line.js';
import { HitsBeforeAfter } from './HitsBeforeAfter.js';
import { ledgerOf, type LedgerRow } from './ledger-rows.js';
import { movedRuler, sayMoved } from './moved-ruler.js';
import '../../fields/acts.css';
import './proof.css';

export interface ProofScreenProps {
  readonly proof: SongProof;
  readonly solution: PathSolution | null;
  readonly treatment: Treatment;
  onReport(): void;
  onRecall(): void;
  onPrint(): void;
}

/** What the print is worth, measured again from the files: hits, measures, wanted and reached, gained and lost, files. */
export function ProofScreen(props: ProofScreenProps) {
  const { proof } = props;
  const screen = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    if (screen.current === null) return undefined;
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)));
    observer.observe(screen.current);
    return () => observer.disconnect();
  }, []);
  const side = width >= 1100 ? 290 : 0;
  return (
    <div ref={screen} className="proof-screen">
      <section className="proof-hits" data-side={side > 0}>
        <div>
          <h2>
            Every kick hit of the song <small>over the bass under it; hollow: covered, under +2&nbsp;dB</small>
          </h2>
          {width > 0 && <HitsBeforeAfter {...proof} names={['Source', 'Treated']} width={width - side} />}
        </div>
        <CoveredSentence {...props} />
      </section>
      <div className="proof-columns">
        <SixMeasures proof={proof} ruler_px={width < 480 ? 84 : 176} />
        <WantedReached {...props} />
        <LedgerColumn {...props} />
      </div>
      <FilesWritten {...props} />
    </div>
  );
}

function CoveredSentence({ proof: { before, after } }: ProofScreenProps) {
  if (!isMeasured(before.clearance) || !isMeasured(after.clearance)) return null;
  const was = coveredHits(before.clearance.hits);
  const now = coveredHits(after.clearance.hits);
  return (
    <p className="proof-sentence">
      Covered hits: <b>{was.covered}</b> before, <b>{now.covered}</b> now
      {now.sunk > 0 ? `, ${now.sunk} of them under 0\u00a0dB` : ''}.
      <small>{now.counted} hits counted; measured from the files.</small>
    </p>
  );
}

function SixMeasures({ proof, ruler_px }: { readonly proof: SongProof; readonly ruler_px: number }) {
  return (
    <section>
      <h2>
        Six measures <small>source, treated, and what moved; shaded: tolerance</small>
      </h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Measure</th>
            <th scope="col" data-numbers="true">
              Source
            </th>
            <th scope="col" aria-label="ruler" />
            <th scope="col" data-numbers="true">
              Treated
            </th>
            <th scope="col" data-numbers="true">
              Moved
            </th>
          </tr>
        </thead>
        <tbody>
          {measureRows(proof.before, proof.after).map((row) => (
            <tr key={row.id}>
              <th scope="row">
                {row.name}
                <small>{row.means}</small>
              </th>
              <td data-numbers="true">{row.reason === null ? row.shown : `not measured: ${row.reason}`}</td>
              <td>
                <svg width={ruler_px} height={34} aria-hidden="true">
                  <DrawingSvg drawing={movedRuler(row, ruler_px, true)} />
                </svg>
              </td>
              <td data-numbers="true">
                <b>{row.treatedShown}</b> {row.unit}
              </td>
              <td data-numbers="true">
                <b>{sayMoved(row, row.unit)}</b>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <MatchLine proof={proof} />
    </section>
  );
}

function MatchLine({ proof }: Pick<ProofScreenProps, 'proof'>) {
  const match = valueOf(proof.match.match_dB);
  const apart = valueOf(proof.match.leftApart_LU);
  if (match === null || apart === null) return null;
  const sign = match > 0 ? '+' : '';
  return (
    <p className="small">
      Matched for listening: treated {sign}
      {sayValue(Number(match.toFixed(2)), 'dB')}, {sayValue(Number(Math.abs(apart).toFixed(2)), 'LU')} apart. Never
      printed.
    </p>
  );
}

function WantedReached({ proof, solution }: ProofScreenProps) {
  const stages = reachedStages({ solution }, proof);
  return (
    <section>
      <h2>
        Wanted and reached <small>stage by stage, in the order of the path</small>
      </h2>
      {stages.length === 0 && <p className="small">No stage was solved; nothing was wanted of the path.</p>}
      <table>
        <thead>
          <tr>
            <th scope="col">Stage</th>
            <th scope="col" data-numbers="true">
              Wanted
            </th>
            <th scope="col" data-numbers="true">
              Reached
            </th>
            <th scope="col">Met</th>
          </tr>
        </thead>
        <tbody>
          {stages.map((stage) => {
            const { address } = parseAddress(stage.address);
            const { name, wish: declared } = declarationOf(address.stage);
            const unit = declared?.unit ?? '';
            const value = valueOf(stage.reached);
            const short = stage.wanted === null || value === null ? 0 : shortfall(stage.wanted, value);
            const { unit: shown, scale } = shownUnit(stage.statistic ?? '', unit);
            return (
              <tr key={stage.address}>
                <th scope="row">
                  {name}
                  <small>{address.track ?? (address.lane === null ? address.role : `${address.lane} lane`)}</small>
                </th>
                <td data-numbers="true" className="wanted">
                  {stage.wanted === null ? '' : sayWish(stage.wanted, unit)}
                </td>
                <td data-numbers="true">
                  {value === null ? '' : <b>{sayWished(stage.statistic ?? '', unit, value)}</b>}
                  {value !== null && (
                    <small>{stage.source === 'file' ? 'in the file' : `at the ${stage.source}`}</small>
                  )}
                </td>
                <td>
                  {!stage.on
                    ? 'off'
                    : stage.wanted === null
                      ? 'as set'
                      : short > 0
                        ? `${sayValue(short * scale, shown)} short`
                        : 'yes'}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function LedgerColumn({ proof, treatment }: ProofScreenProps) {
  const { gained, lost, told, open } = ledgerOf(proof.rows, treatment);
  return (
    <section>
      <LedgerList name="Gained" rows={gained} />
      <LedgerList name="Lost" rows={lost} />
      {told.length > 0 && <LedgerList name="Moved, not judged" rows={told} />}
      {open.length > 0 && <LedgerList name="Not compared" rows={open} />}
    </section>
  );
}

function LedgerList({ name, rows }: { readonly name: string; readonly rows: readonly LedgerRow[] }) {
  return (
    <div className="ledger">
      <h2>
        {name} <small>{rows.length}</small>
      </h2>
      <ul>
        {rows.map(({ what, amount, harm }) => (
          <li key={what}>
            <span>
              {what}
              {harm ? ', more than its tolerance' : ''}
            </span>
            <b>{amount}</b>
          </li>
        ))}
      </ul>
    </div>
  );
}

function FilesWritten({ proof, onReport, onRecall, onPrint }: ProofScreenProps) {
  const folder = proof.files[0]?.printed.path.replace(/[^/]*$/, '') ?? '';
  return (
    <section className="proof-files">
      <header>
        <h2>
          Files written <small>in {folder}; no source was touched</small>
        </h2>
        <p className="acts">
          <button type="button" className="act" onClick={onReport}>
            Client report
          </button>
          <button type="button" className="act-quiet" onClick={onRecall}>
            Recall
          </button>
          <button type="button" className="act-quiet" onClick={onPrint}>
            Print again
          </button>
        </p>
      </header>
      <table>
        <tbody>
          {proof.files.map((file) => (
            <tr key={file.printed.path}>
              <th scope="row">{file.printed.path.replace(/^.*\//, '')}</th>
              <td>
                {file.bitDepth}-bit, {file.sampleRate_Hz / 1000}&nbsp;kHz, {file.channels === 1 ? 'mono' : 'stereo'}
              </td>
              <td>{sayFile(file)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function sayFile({ printed, sameBytesAsSource, alignedOnTheSample }: SongProof['files'][number]): string {
  if (sameBytesAsSource) return 'nothing was on: the same bytes as its source';
  const place = alignedOnTheSample
    ? 'start and length as its sources, on the sample'
    : 'start or length differs from its sources';
  return printed.files.length > 1
    ? `holds ${printed.files.map((one) => one.replace(/^.*\//, '')).join(' + ')}; ${place}`
    : place;
}
