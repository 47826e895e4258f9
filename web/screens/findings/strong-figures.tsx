import { Fragment, type ReactNode } from 'react';
import { splitFigures } from './split-figures.js';

/** A sentence with its figures set strong, so that a list can be read by its numbers. */
export function withStrongFigures(sentence: string): ReactNode {
  return splitFigures(sentence).map(({ text, figure }, i) =>
    figure ? <b key={i}>{text}</b> : <Fragment key={i}>{text}</Fragment>,
  );
}
