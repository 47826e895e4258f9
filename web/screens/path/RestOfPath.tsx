import { pathOfRole, type PathStage } from './path-stages.js';
import type { PathScreenProps } from './path-props.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';

/** The rest of the song in one line: it only passes, unless one of its files is cleaned. */
export function RestOfPath({ treatment, opened, onOpen }: PathScreenProps & { readonly opened: string }) {
  const { tracks } = pathOfRole(treatment, 'rest');
  if (tracks.length === 0) return null;
  return (
    <p className="rest-of-path">
      <b>Rest</b>
      {tracks.map(({ file, stages }) => (
        <span key={file}>
          {file}{' '}
          {stages.map((stage) => (
            <button
              key={stage.key}
              type="button"
              className="rest-stage"
              aria-pressed={stage.key === opened}
              onClick={() => onOpen(stage.key)}
            >
              {sayRestStage(stage)}
            </button>
          ))}
        </span>
      ))}
    </p>
  );
}

function sayRestStage({ address, instance }: PathStage): string {
  return `${declarationOf(address.stage).name} ${instance.on ? 'on' : 'off'}`;
}
