import type { RolePath, StageInstance, Treatment } from './treatment.js';

/** The treatment with every stage off, at the same settings. */
export function withAllOff(treatment: Treatment): Treatment {
  const off = (stages: readonly StageInstance[]) => stages.map((instance) => ({ ...instance, on: false }));
  const path = (role: RolePath): RolePath => ({
    tracks: role.tracks.map((track) => ({ ...track, stages: off(track.stages) })),
    stages: off(role.stages),
    lanes: { low: off(role.lanes.low), high: off(role.lanes.high) },
  });
  return { ...treatment, kick: path(treatment.kick), bass: path(treatment.bass), rest: path(treatment.rest) };
}
