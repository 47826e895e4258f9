import { useEffect, useState } from 'react';
import { Button } from 'react-aria-components';
import type { Treatment } from '../../core/treatment/treatment.js';
import { KeyCap } from '../keys/KeyCap.js';
import { useKey } from '../keys/use-keys.js';
import { sayMatches } from './say-matches.js';

/** A version as it can be heard; its match is null where it was never measured. */
export interface HeardVersion {
  readonly treatment: Treatment;
  readonly match_dB: number | null;
}

export interface HearVersionsProps {
  /** Null where a version cannot be heard any more. */
  readonly pair: readonly [HeardVersion | null, HeardVersion | null];
  readonly names: readonly [string, string];
  onHear(heard: { readonly treatment: Treatment; readonly match_dB: number } | null): void;
}

/** Two versions by ear: one key swaps them while the song plays, each as loud as the source where both matches are known. */
export function HearVersions({ pair, names, onHear }: HearVersionsProps) {
  const [heard, setHeard] = useState<0 | 1 | null>(null);
  const [one, other] = pair;
  const matched = one?.match_dB !== null && other?.match_dB !== null;
  const hear = (side: 0 | 1) => {
    const version = pair[side];
    if (version === null) return;
    setHeard(side);
    onHear({ treatment: version.treatment, match_dB: matched ? version.match_dB! : 0 });
  };
  const canSwap = one !== null && other !== null && names[0] !== names[1];
  useKey('swap', canSwap ? () => hear(heard === 0 ? 1 : 0) : null);
  // another pair is another comparison: what stands is heard again until one of the two is chosen
  useEffect(() => onHear(null), [onHear]);
  if (names[0] === names[1]) return null;
  if (!canSwap) {
    const which = names[one === null ? 0 : 1];
    return (
      <p className="note">
        {which} cannot be heard here: it was not solved when it was named, or the stems have changed since.
      </p>
    );
  }
  return (
    <div className="hear-versions" role="group" aria-label="Hear">
      {([0, 1] as const).map((side) => (
        <Button
          key={side}
          className={heard === side ? 'word-button inked' : 'word-button'}
          aria-pressed={heard === side}
          onPress={() => hear(side)}
        >
          Hear {names[side]}
        </Button>
      ))}
      <span className="note">
        <KeyCap action="swap" /> swaps them. {sayMatches([one.match_dB, other.match_dB])}
      </span>
    </div>
  );
}
