import './empty-strip.css';

/** The song strip before there is a song: the ruled form, saying what will stand in each row. */
export function EmptyStrip() {
  const bars = Array.from({ length: 9 }, (_, n) => 12.5 * n);
  return (
    <section className="empty-strip" aria-label="Song strip, empty">
      {ROWS.map(({ name, note, words, lines }) => (
        <div key={name} className="empty-row">
          <div>
            <b>{name}</b>
            <small>{note}</small>
          </div>
          <div className="ruled">
            <svg viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
              {bars.map((x) => (
                <path key={x} className="rule" d={`M${x} 0V100`} />
              ))}
              {lines.map((y) => (
                <path key={y} className="axis" d={`M0 ${y}H100`} />
              ))}
            </svg>
            <em>{words}</em>
          </div>
        </div>
      ))}
    </section>
  );
}

const ROWS = [
  {
    name: 'Kick clearance',
    note: 'dB over the bass, 0: equals',
    words: 'every kick hit: standing above the line, hollow when covered, sunk where the bass is stronger',
    lines: [62],
  },
  {
    name: 'Bass notes',
    note: 'a stroke for each dB over or under the middle level',
    words: 'every bass note on the lines of the open strings, with a short stroke for each dB over or under the others',
    lines: [12, 37, 62, 87],
  },
  {
    name: 'What the lows do',
    note: 'level: bass, upright: kick',
    words: 'bass level, kick upright; crossed where both want the same third of an octave',
    lines: [10, 50, 90],
  },
] as const;
