import type { Treatment } from '../../../core/treatment/treatment.js';
import { KeyCap } from '../../keys/KeyCap.js';
import { movedInLane, pathOfRole, type PathStage } from './path-stages.js';

interface PlaceInLaneProps {
  readonly stage: PathStage;
  readonly treatment: Treatment;
  onOrder(addresses: readonly string[]): void;
}

/** Changes places with the neighbour in the lane: what dragging the frame does, for those who do not drag. */
export function PlaceInLane({ stage, treatment, onOrder }: PlaceInLaneProps) {
  const { role, lane } = stage.address;
  if (lane === null) return null;
  const stages = pathOfRole(treatment, role)[lane];
  const act = (by: -1 | 1, words: string, action: 'stage-earlier' | 'stage-later') => {
    const order = movedInLane(stages, stage.key, by);
    return (
      <button type="button" className="act-quiet" disabled={order === null} onClick={() => order && onOrder(order)}>
        {words}
        <KeyCap action={action} />
      </button>
    );
  };
  return (
    <>
      {act(-1, 'Earlier in the lane', 'stage-earlier')}
      {act(1, 'Later', 'stage-later')}
    </>
  );
}
