import { hasStage } from './stage-registry.js';
import type { RolePath, StageId, StageInstance, TreatedRole, Treatment } from './treatment.js';

/** The order of the stages at one place: `bass.low`, `bass.high`, or the bus of a role by its name. */
export interface StageOrder {
  readonly place: string;
  readonly stages: readonly string[];
}

export interface OrderedTreatment {
  readonly treatment: Treatment;
  /** What could not be followed, in plain words. */
  readonly remarks: readonly string[];
}

/**
 * The treatment with the stages of these places in another order. Stages that are named change among the positions they hold;
 * those that are not named keep theirs. What names nothing here is left out and told, and so is an order that would part split
 * and join.
 */
export function withOrders(treatment: Treatment, orders: readonly StageOrder[]): OrderedTreatment {
  let ordered = treatment;
  const remarks: string[] = [];
  for (const order of orders) {
    const place = placeOf(order.place);
    const old = place === null ? null : stagesAt(ordered[place.role], place.lane);
    if (place === null || old === null || old.length === 0) {
      remarks.push(`The order of ${order.place} is not followed: there is no such place.`);
      continue;
    }
    const absent = order.stages.filter((stage) => !old.some((instance) => instance.stage === stage));
    if (absent.length > 0) remarks.push(`The order of ${order.place} names ${absent.join(', ')}, not there: left out.`);
    const stages = permuted(old, order.stages);
    if (!mayStand(stages)) {
      remarks.push(`The order of ${order.place} is not followed: join must come right after split.`);
      continue;
    }
    ordered = { ...ordered, [place.role]: withStages(ordered[place.role], place.lane, stages) };
  }
  return { treatment: ordered, remarks };
}

type Lane = 'low' | 'high';

function placeOf(text: string): { role: TreatedRole; lane: Lane | null } | null {
  const [, role, lane] = /^(kick|bass|rest)(?:\.(low|high))?$/.exec(text) ?? [];
  return role === undefined ? null : { role: role as TreatedRole, lane: (lane as Lane | undefined) ?? null };
}

function stagesAt(path: RolePath, lane: Lane | null): readonly StageInstance[] {
  return lane === null ? path.stages : path.lanes[lane];
}

function withStages(path: RolePath, lane: Lane | null, stages: readonly StageInstance[]): RolePath {
  return lane === null ? { ...path, stages } : { ...path, lanes: { ...path.lanes, [lane]: stages } };
}

function permuted(old: readonly StageInstance[], wanted: readonly string[]): StageInstance[] {
  const named = [...new Set(wanted)].filter((stage): stage is StageId => hasStage(stage as StageId));
  const inOrder = named.flatMap((stage) => old.filter((instance) => instance.stage === stage));
  return old.map((instance) => (named.includes(instance.stage) ? inOrder.shift()! : instance));
}

function mayStand(stages: readonly StageInstance[]): boolean {
  const at = stages.findIndex(({ stage }) => stage === 'split');
  return at < 0 || stages[at + 1]?.stage === 'join';
}
