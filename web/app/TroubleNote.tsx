import type { ReactNode } from 'react';
import { Button } from 'react-aria-components';
import type { Trouble } from '../../protocol/job-messages.js';

export interface TroubleNoteProps {
  readonly trouble: Trouble;
  readonly children?: ReactNode;
  onOpenAgain(): void;
}

/** What went wrong, in the place where it did: what is so, and what can be done. */
export function TroubleNote({ trouble, children, onOpenAgain }: TroubleNoteProps) {
  return (
    <section className="trouble" role="alert">
      <h2>{trouble.subject}</h2>
      <p className="sentence">
        {trouble.reason} {trouble.remedy}
      </p>
      <div className="button-row">
        {children}
        <Button className="word-button" onPress={onOpenAgain}>
          Open it again
        </Button>
      </div>
    </section>
  );
}
