import type { WishDeclaration } from '../../core/treatment/stage.js';
import type { Wish } from '../../core/wishes/wish.js';
import { NumberField } from './NumberField.js';
import { wishRange } from './wish-range.js';
import { wishSentence, withLimit } from './wish-sentence.js';

export interface WishSentenceProps {
  readonly wish: Wish;
  readonly declared: WishDeclaration;
  /** The unit on paper, and what data is multiplied by for it (shares are 0..1 in data). */
  readonly shown: { readonly unit: string; readonly scale: number };
  /** The wish that double click and Backspace go back to. */
  readonly proposed: Wish;
  /** Values that the range must hold: now, reached. */
  readonly present: readonly number[];
  onWish(wish: Wish): void;
}

/** The wanted result as a sentence; its limits are blanks. */
export function WishSentence({ wish, declared, shown, proposed, present, onWish }: WishSentenceProps) {
  const { unit, scale } = shown;
  const data = wishRange(wish, unit, present);
  const range = { ...data, min: data.min * scale, max: data.max * scale };
  return (
    <p className="wish-sentence">
      {wishSentence(wish, declared).map((piece, i) =>
        'text' in piece ? (
          piece.text
        ) : (
          <NumberField
            key={i}
            name={`${declared.name}, ${piece.limit === 'low' ? 'at least' : 'at most'}`}
            value={Number(((wish[piece.limit] ?? 0) * scale).toPrecision(12))}
            unit={unit}
            range={range}
            solved={null}
            rest={(proposed[piece.limit] ?? wish[piece.limit] ?? 0) * scale}
            tempo_bpm={null}
            wanted
            onChange={(value) => onWish(withLimit(wish, piece.limit, value / scale))}
          />
        ),
      )}
    </p>
  );
}
