import type { SongProof } from '../../core/job/prove-song.js';
import { sayCount } from '../../core/findings/say-figure.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { valueOf } from '../../core/units/reading.js';
import { sayValue } from '../fields/say-value.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import type { Label, Stroke } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { strandPicture } from '../screens/path/strand-picture.js';
import { measureRows } from '../screens/findings/measure-rows.js';
import { recallRows, rowsOnPage, type RecallRow } from './recall-rows.js';
import { SheetFoot } from './SheetFoot.js';
import './report.css';

export interface RecallSheetProps {
  readonly song: string;
  readonly version: string;
  readonly date: string;
  readonly treatment: Treatment;
  /** Null before a print. */
  readonly proof: SongProof | null;
}

const WIDTH = 678;
const DENSE_FROM = 11;
/** With more rows the page has no room for the drawing. */
const MOST_WITH_PATH = 13;

/** One page with every setting in units that any equaliser or compressor takes, in the order of the path. */
export function RecallSheet({ song, version, date, treatment, proof }: RecallSheetProps) {
  const all = recallRows(treatment);
  const rows = rowsOnPage(all);
  const more = all.length - rows.length;
  return (
    <article className="a4 on-white recall" data-dense={rows.length >= DENSE_FROM}>
      <header>
        <h1>{song}: recall</h1>
        <p>
          Version {version.replace(/^v/, '')}, {date}. Every setting in the order of the path: frequencies in Hz, times
          to 63&nbsp;% of the change, levels in dBFS (a full-scale sine reads 0), at{' '}
          {sayValue(treatment.sampleRate_Hz / 1000, 'kHz')}.
        </p>
      </header>
      {rows.length <= MOST_WITH_PATH && <SmallPath treatment={treatment} rows={rows} />}
      <table>
        <thead>
          <tr>
            <th scope="col" />
            <th scope="col">Stage</th>
            <th scope="col">Set</th>
            <th scope="col">Leave it off where</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.number}>
              <td>{row.number}</td>
              <th scope="row">
                {row.stage}
                <small>{row.place}</small>
              </th>
              <td className="a4-words">
                {row.set}
                {row.measured !== '' && <small>Measured over the song: {row.measured}.</small>}
              </td>
              <td>
                <small>{row.undoWhen}</small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {more > 0 && <p className="a4-note">and {more} more, all in keelson.json</p>}
      {rows.length === 0 && <p className="a4-note">No stage is on: the path passes the song as it came.</p>}
      <div className="a4-halves">
        <section>
          <h2>What goes with it</h2>
          <p className="a4-note">
            {sayLists(treatment)} Both stand in the session file, with the cut of every hit and the ride of every note.
          </p>
        </section>
        <section>
          <h2>Check after setting it again</h2>
          <p className="a4-note">
            {proof === null ? 'Not printed yet: print to know what it reaches.' : sayChecks(proof)}
          </p>
        </section>
      </div>
      <SheetFoot cells={[song, `Version ${version.replace(/^v/, '')}`, 'Recall, 1 of 1', date]} />
    </article>
  );
}

function sayLists({ hits, notes }: Treatment): string {
  return `The stages that follow the song use its ${sayCount(hits.length, 'hit')} and ${sayCount(notes.length, 'note')}.`;
}

function sayChecks(proof: SongProof): string {
  const measures = measureRows(proof.before, proof.after)
    .filter(({ treated }) => treated !== null)
    .map(({ name, treatedShown, unit }) => `${name.toLowerCase()} ${treatedShown}\u00a0${unit}`);
  const match = valueOf(proof.match.match_dB);
  const level = match === null ? '' : ` Played back ${sayValue(match, 'dB')} it is as loud as the source.`;
  return `Measured from the printed files: ${measures.join(', ')}.${level}`;
}

/** The strands again, small, with the numbers of the rows at their frames. */
function SmallPath({ treatment, rows }: { readonly treatment: Treatment; readonly rows: readonly RecallRow[] }) {
  const picture = strandPicture(treatment, { length: WIDTH, depth: 150, upright: false });
  const frames = picture.frames.flatMap(
    ({ stage, along, across, half, side }): { stroke: Stroke; label: Label | null }[] => {
      const row = rows.find(({ keys }) => keys.includes(stage.key));
      const path = pathData.upright(along, across - half + 3, across + half - 3);
      if (row === undefined) return [];
      const y = side === 'above' ? across - half : across + half + 8;
      return [
        {
          stroke: { path, ink: 'ink', width: 1.3 },
          label: { x: along, y, text: String(row.number), ink: 'ink', anchor: 'middle', strong: true },
        },
      ];
    },
  );
  return (
    <svg width={WIDTH} height={150} role="img" aria-label="The path with the numbers of the rows">
      <DrawingSvg
        drawing={{
          strokes: [
            ...picture.strokes.map((stroke) => ({ ...stroke, width: stroke.width * 0.6 })),
            ...frames.map(({ stroke }) => stroke),
          ],
          labels: frames.flatMap(({ label }) => (label === null ? [] : [label])),
        }}
      />
    </svg>
  );
}
