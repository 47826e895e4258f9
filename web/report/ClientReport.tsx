import type { SongProof } from '../../core/job/prove-song.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { measureRows } from '../screens/findings/measure-rows.js';
import { HitsBeforeAfter } from '../screens/proof/HitsBeforeAfter.js';
import { ledgerOf } from '../screens/proof/ledger-rows.js';
import { movedRuler } from '../screens/proof/moved-ruler.js';
import { ledgerRoom } from './ledger-room.js';
import { loudnessLine, reportSentences } from './report-sentences.js';
import { SheetFoot } from './SheetFoot.js';
import './report.css';

export interface ClientReportProps {
  readonly song: string;
  readonly version: string;
  /** As it is to be read: `25 November 2026`. */
  readonly date: string;
  readonly proof: SongProof;
  readonly treatment: Treatment;
}

/** The measures for somebody who does not know them; one that is not named is called as it is declared. */
const MEANINGS: Readonly<Record<string, string>> = {
  clearance: 'how far the kick stands out, lowest tenth of hits',
  agreement: 'whether kick and bass add up or cancel',
  centre: 'what is lost where it plays in mono',
  evenness: 'how much the bass notes differ in level',
  carry: 'how far the bass falls on a laptop, against the song',
  headroom: 'what the lows cost in peak level',
};

/** A4 less its margins, in CSS pixels. */
const WIDTH = 678;

/** One page for somebody who was not in the room: what was done to the low end and what it changed. */
export function ClientReport({ song, version, date, proof, treatment }: ClientReportProps) {
  const { gained, lost } = ledgerOf(proof.rows, treatment);
  const title = `${song}: the low end`;
  const sentences = reportSentences(proof);
  const room = ledgerRoom(title, sentences);
  return (
    <article className="a4 on-white report">
      <header>
        <h1>{title}</h1>
        <p>
          What was done to kick and bass, and what it changed. {date}, version {version.replace(/^v/, '')}.
        </p>
      </header>
      {sentences.map((sentence, i) => (
        <p key={i} className="a4-sentence">
          {sentence.map((part, k) => (typeof part === 'string' ? part : <b key={k}>{part.strong}</b>))}
        </p>
      ))}
      <h2>The kick, every hit of the song</h2>
      <HitsBeforeAfter {...proof} names={['Before', 'After']} width={WIDTH} />
      <p className="a4-note">
        On the line kick and bass are equals. A stroke is a hit that stands clear of the bass; a ring is a hit that it
        covers.
      </p>
      <h2>The six figures</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Figure</th>
            <th scope="col">What it is</th>
            <th scope="col" data-numbers="true">
              Before
            </th>
            <th scope="col" aria-label="ruler" />
            <th scope="col" data-numbers="true">
              After
            </th>
          </tr>
        </thead>
        <tbody>
          {measureRows(proof.before, proof.after).map((row) => (
            <tr key={row.id}>
              <th scope="row">{row.name}</th>
              <td className="a4-words">{MEANINGS[row.id] ?? row.means}</td>
              <td data-numbers="true">{row.reason === null ? row.shown : row.reason}</td>
              <td>
                <svg width={140} height={22} aria-hidden="true">
                  <DrawingSvg drawing={movedRuler(row, 140, false)} />
                </svg>
              </td>
              <td data-numbers="true">
                <b>{row.treatedShown}</b> {row.unit}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="a4-note">
        Open mark: before. Filled: after. Shaded: the tolerance. Measured on the printed files. {loudnessLine(proof)}
      </p>
      <div className="a4-halves">
        <LedgerHalf name="Gained" rows={gained} most={room} />
        <LedgerHalf name="Lost" rows={lost} most={room} />
      </div>
      <SheetFoot
        cells={[
          song,
          `Version ${version.replace(/^v/, '')}`,
          `${treatment.sampleRate_Hz / 1000} kHz`,
          'Client report, 1 of 1',
          'Play loud lows with care',
        ]}
      />
    </article>
  );
}

function LedgerHalf({
  name,
  rows,
  most,
}: {
  readonly name: string;
  readonly rows: readonly { readonly what: string; readonly amount: string }[];
  readonly most: number;
}) {
  const more = rows.length - most;
  return (
    <section>
      <h2>{name}</h2>
      {rows.length === 0 && <p className="a4-note">Nothing that the measures show.</p>}
      <ul>
        {rows.slice(0, most).map(({ what, amount }) => (
          <li key={what}>
            <span>{what}</span>
            <b>{amount}</b>
          </li>
        ))}
      </ul>
      {more > 0 && <p className="a4-note">and {more} more on the proof sheet</p>}
    </section>
  );
}
