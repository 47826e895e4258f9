import { sayCount } from '../../../core/findings/say-figure.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';
import type { PathScreenProps } from './path-props.js';
import { pathOfRole, type PathStage } from './path-stages.js';

interface RestOfPathProps extends PathScreenProps {
  readonly opened: string;
  /** Drawn close: the files fold away behind their count. */
  readonly folded: boolean;
}

/** The rest of the song: it only passes, unless one of its files is cleaned. */
export function RestOfPath({ treatment, opened, folded, onOpen }: RestOfPathProps) {
  const { tracks } = pathOfRole(treatment, 'rest');
  if (tracks.length === 0) return null;
  const on = tracks.filter(({ stages }) => stages.some(({ instance }) => instance.on)).length;
  const files = tracks.map(({ file, stages }) => (
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
  ));
  if (!folded && tracks.length <= MOST_IN_LINE) {
    return (
      <p className="rest-of-path">
        <b>Rest</b>
        {files}
      </p>
    );
  }
  return (
    <details className="rest-of-path">
      <summary>
        <b>Rest</b> {sayCount(tracks.length, 'file')}, {on === 0 ? 'none' : on} cleaned
      </summary>
      <div>{files}</div>
    </details>
  );
}

const MOST_IN_LINE = 4;

function sayRestStage({ address, instance }: PathStage): string {
  return `${declarationOf(address.stage).name} ${instance.on ? 'on' : 'off'}`;
}
