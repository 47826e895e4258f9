import { useState, type FormEvent, type KeyboardEvent } from 'react';
import { Button, Input, Label, TextField } from 'react-aria-components';
import type { Finding } from '../../../core/findings/finding.js';
import type { Solution } from '../../../core/solve/solve-song.js';
import { KeyCap } from '../../keys/KeyCap.js';
import { useKey } from '../../keys/use-keys.js';
import type { FindingDecision } from './finding-standing.js';
import { costsInWords, mendingSteps, wishInWords } from './mending-steps.js';

interface MendingColumnProps {
  readonly finding: Finding;
  readonly solution: Pick<Solution, 'stages' | 'rows'> | null;
  readonly decision: FindingDecision | null;
  readonly mayDecide: boolean;
  readonly onDecide: (action: FindingDecision['action'] | null, reason: string) => void;
}

/** What would mend the finding, when to leave it, and the three words that decide. */
export function MendingColumn({ finding, solution, decision, mayDecide, onDecide }: MendingColumnProps) {
  const [leaving, setLeaving] = useState(false);
  const steps = mendingSteps(finding, solution);
  const basis = steps[0]?.basis;
  const wish = wishInWords(finding);
  const rendered = basis === 'rendered' && solution !== null;
  return (
    <section aria-label="What would mend it">
      <h2>What would mend it {basis !== undefined && <small>(expected, {basis})</small>}</h2>
      <ul className="mending-steps">
        {steps.length === 0 && <li>Nothing here mends it; the remedy lies outside, with the source or the mix.</li>}
        {steps.map((step) => (
          <li key={step.stage}>
            <span>
              <b>{step.stage}</b> {step.does}
            </span>
            <span className="mending-gives">{step.gives}</span>
          </li>
        ))}
        {wish !== '' && <li>Wish: {wish}</li>}
        {steps.length > 0 && (
          <li>{rendered ? costLine(costsInWords(solution.rows)) : 'Cost: told once it is rendered.'}</li>
        )}
      </ul>
      <p className="leave-it-when">
        <b>Leave it when</b> {finding.leaveItWhen}
      </p>
      {leaving ? (
        <LeaveForm
          onLeave={(reason) => {
            setLeaving(false);
            onDecide('leave', reason);
          }}
          onCancel={() => setLeaving(false)}
        />
      ) : (
        mayDecide && (
          <Decide finding={finding} decision={decision} onDecide={onDecide} onLeave={() => setLeaving(true)} />
        )
      )}
    </section>
  );
}

function costLine(costs: readonly string[]): string {
  return costs.length === 0 ? 'Cost: no measure is worse.' : `Cost: ${costs.join('; ')}.`;
}

interface DecideProps extends Omit<MendingColumnProps, 'solution' | 'mayDecide'> {
  readonly onLeave: () => void;
}

function Decide({ finding, decision, onDecide, onLeave }: DecideProps) {
  const treatable = finding.suggest.stage !== 'none';
  useKey('treat', treatable && decision?.action !== 'treat' ? () => onDecide('treat', '') : null);
  useKey('leave', decision?.action !== 'leave' ? onLeave : null);
  useKey('later', decision?.action !== 'later' ? () => onDecide('later', '') : null);
  return (
    <div className="decide">
      {treatable && decision?.action !== 'treat' && (
        <Button className="word-button inked" onPress={() => onDecide('treat', '')}>
          Treat
          <KeyCap action="treat" />
        </Button>
      )}
      {decision?.action !== 'leave' && (
        <Button className="word-button" onPress={onLeave}>
          Leave, with a reason
          <KeyCap action="leave" />
        </Button>
      )}
      {decision?.action !== 'later' && (
        <Button className="word-button" onPress={() => onDecide('later', '')}>
          Put off
          <KeyCap action="later" />
        </Button>
      )}
      {decision !== null && (
        <>
          <Button className="word-button" onPress={() => onDecide(null, '')}>
            Take it back
          </Button>
          <p className="decided" role="status">
            {DECIDED[decision.action]}
            {decision.reason === '' ? '' : `: \u201c${decision.reason}\u201d`}.{' '}
            {decision.action === 'leave' ? 'Still measured, no longer counted.' : ''}
          </p>
        </>
      )}
    </div>
  );
}

const DECIDED = { treat: 'Treated', leave: 'Left', later: 'Put off' } as const;

/** The reason for leaving a finding; it may stay empty. */
function LeaveForm({
  onLeave,
  onCancel,
}: {
  readonly onLeave: (reason: string) => void;
  readonly onCancel: () => void;
}) {
  const [reason, setReason] = useState('');
  const onSubmit = (event: FormEvent): void => {
    event.preventDefault();
    onLeave(reason.trim());
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape') return;
    event.preventDefault();
    onCancel();
  };
  return (
    <form className="leave-form" onSubmit={onSubmit} onKeyDown={onKeyDown}>
      <TextField value={reason} onChange={setReason} autoFocus>
        <Label>Reason for leaving it</Label>
        <Input placeholder="keep the room" />
      </TextField>
      <div className="decide">
        <Button className="word-button inked" type="submit">
          Leave it
        </Button>
        <Button className="word-button" onPress={onCancel}>
          Back
        </Button>
      </div>
    </form>
  );
}
