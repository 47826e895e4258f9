import { treatable, untreated } from '../core/job/solve-inspection.js';
import type { Inspection } from '../core/job/inspect-song.js';
import { acceptedFindings } from '../core/session/decisions.js';
import type { Session } from '../core/session/session-format.js';
import type { Agreed } from '../core/solve/stage-requests.js';
import { parseAddress, stageAt } from '../core/treatment/paths.js';

/** What the session agrees to in this song; settings of stems that are gone are left out. */
export function agreedOf(session: Session, inspection: Inspection): Agreed {
  const accepted = new Set(acceptedFindings(session));
  const plain = untreated(inspection);
  return {
    accepted: treatable(inspection.faults.findings).filter(({ id }) => accepted.has(id)),
    wishes: session.wishes,
    orders: session.orders,
    settings: new Map(
      session.settings
        .filter(({ address }) => stageAt(plain, parseAddress(address).address) !== null)
        .map(({ address, value }) => [address, value] as const),
    ),
  };
}
