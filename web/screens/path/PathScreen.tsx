import { useEffect, useRef, useState, type RefObject } from 'react';
import { sayCount } from '../../../core/findings/say-figure.js';
import { OpenStage } from './OpenStage.js';
import type { PathScreenProps } from './path-props.js';
import { stagesInOrder } from './path-stages.js';
import { PathStrands } from './PathStrands.js';
import { RestOfPath } from './RestOfPath.js';
import { SolvingLine } from './SolvingLine.js';
import { sayStagesOn } from './stage-words.js';
import '../../fields/acts.css';
import './path.css';

const UPRIGHT_UNDER_px = 1160;

/** The path: strands with their stages, and the open stage as detail A. */
export function PathScreen(props: PathScreenProps) {
  const { treatment, open, solving, onStop } = props;
  const screen = useRef<HTMLDivElement>(null);
  const width = useWidth(screen);
  const upright = width < UPRIGHT_UNDER_px;
  const stages = stagesInOrder(treatment);
  const opened = stages.find(({ key }) => key === open) ?? stages.find(({ instance }) => instance.on) ?? stages[0];
  return (
    <div ref={screen} className="path-screen" data-upright={upright}>
      <div className="path-head">
        <h2>
          The path{' '}
          <small>
            {sayStagesOn(stages)}; {sayCount(treatment.hits.length, 'hit')} and{' '}
            {sayCount(treatment.notes.length, 'note')} known
          </small>
        </h2>
        {solving !== null && <SolvingLine solving={solving} onStop={onStop} />}
      </div>
      {width > 0 && opened !== undefined && (
        <>
          <PathStrands
            {...props}
            opened={opened.key}
            width={width}
            depth={width >= 1340 ? 372 : 336}
            upright={upright}
          />
          <RestOfPath {...props} opened={opened.key} />
          <OpenStage {...props} stage={opened} figure={figureSize(width)} />
        </>
      )}
    </div>
  );
}

/** Figures take the width of their column and are laid out anew: four columns, two, or one. */
function figureSize(width: number): { width: number; height: number } {
  if (width >= UPRIGHT_UNDER_px) return { width: Math.round(width * 0.265) - 36, height: 210 };
  return { width: width >= 660 ? Math.round(width / 2) - 28 : width, height: 220 };
}

function useWidth(element: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    if (element.current === null) return undefined;
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)));
    observer.observe(element.current);
    return () => observer.disconnect();
  }, [element]);
  return width;
}
