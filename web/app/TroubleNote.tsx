import type { ReactNode } from 'react';
import type { Trouble } from '../../protocol/job-messages.js';

/** What went wrong, in the place where it did: what is so, and what can be done. */
export function TroubleNote({ trouble, children }: { readonly trouble: Trouble; readonly children?: ReactNode }) {
  return (
    <section className="trouble" role="alert">
      <h2>{trouble.subject}</h2>
      <p className="sentence">
        {trouble.reason} {trouble.remedy}
      </p>
      {children}
    </section>
  );
}
