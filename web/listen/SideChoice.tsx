import { useId } from 'react';
import type { Side } from '../audio/heard-mix.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { diamondMark } from '../marks/diamond-mark.js';

/** Source or treated, each with its mark; S swaps them everywhere. */
export function SideChoice({ side, onSide }: { readonly side: Side; readonly onSide: (side: Side) => void }) {
  const group = useId();
  return (
    <span role="radiogroup" aria-label="Hear" className="listen-sides">
      {(['source', 'treated'] as const).map((id) => (
        <label key={id} className={id === side ? 'listen-on' : undefined}>
          <input type="radio" name={group} checked={id === side} onChange={() => onSide(id)} />
          <svg width="14" height="14" aria-hidden="true">
            <DrawingSvg drawing={{ strokes: [diamondMark(7, 7, id)], labels: [] }} />
          </svg>
          {id === 'source' ? 'Source' : 'Treated'}
        </label>
      ))}
    </span>
  );
}
