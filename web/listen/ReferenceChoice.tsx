import { Choice } from './Choice.js';
import { sayTime } from './listening.js';
import { sayGain } from './say-match.js';

/** A finished record beside the song. */
export interface ReferenceRow {
  readonly file: string;
  readonly label: string;
  /** The gain that makes it as loud as the song; null before it is measured. */
  readonly gain_dB: number | null;
  /** Why it cannot be heard; null where it can. */
  readonly trouble: string | null;
}

/** Where the reference that is heard stands, and its own loop. */
export interface ReferencePlace {
  readonly position_s: number;
  readonly duration_s: number;
  readonly loop: readonly [number, number] | null;
  locate(time_s: number): void;
  setLoop(loop: readonly [number, number] | null): void;
}

interface ReferenceChoiceProps {
  readonly rows: readonly ReferenceRow[];
  readonly chosen: string | null;
  readonly place: ReferencePlace | null;
  onChoose(file: string | null): void;
}

const NONE = '';

/** The references, each matched in loudness to the song, with a place and a loop of its own. */
export function ReferenceChoice({ rows, chosen, place, onChoose }: ReferenceChoiceProps) {
  if (rows.length === 0) {
    return (
      <>
        <h3>References</h3>
        <p>None. Put a finished record among the stems and give it the role of reference.</p>
      </>
    );
  }
  const trouble = rows.find(({ file }) => file === chosen)?.trouble ?? null;
  return (
    <>
      <h3>
        References <small>matched to the song in loudness, BS.1770 over the whole of both</small>
      </h3>
      <Choice
        name="References"
        choices={[
          { id: NONE, label: 'None' },
          ...rows.map(({ file, label, gain_dB }) => ({
            id: file,
            label: gain_dB === null ? label : `${label}, ${sayGain(gain_dB)}`,
          })),
        ]}
        chosen={chosen ?? NONE}
        onChoose={(file) => onChoose(file === NONE ? null : file)}
      />
      {trouble !== null && <p role="status">{trouble}</p>}
      {place !== null && trouble === null && <PlaceOfReference {...place} />}
    </>
  );
}

const LOOP_S = 8;

function PlaceOfReference({ position_s, duration_s, loop, locate, setLoop }: ReferencePlace) {
  const from_s = Math.min(position_s, Math.max(0, duration_s - LOOP_S));
  return (
    <div className="listen-place">
      <input
        type="range"
        className="listen-gain"
        aria-label="Place in the reference"
        aria-valuetext={sayTime(position_s)}
        min={0}
        max={Math.max(1, Math.floor(duration_s))}
        step={1}
        value={Math.round(position_s)}
        onChange={(event) => locate(Number(event.target.value))}
      />
      <span>
        {sayTime(position_s)} of {sayTime(duration_s)}
      </span>
      <label className="listen-tick">
        <input
          type="checkbox"
          checked={loop !== null}
          onChange={(event) => setLoop(event.target.checked ? [from_s, from_s + LOOP_S] : null)}
        />
        {loop === null ? `Loop ${LOOP_S}\u00a0s from here` : `Looped ${sayTime(loop[0])} to ${sayTime(loop[1])}`}
      </label>
    </div>
  );
}
