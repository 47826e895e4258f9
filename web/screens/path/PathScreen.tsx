import { useEffect, useMemo, useRef, useState, type RefObject } from 'react';
import { sayCount } from '../../../core/findings/say-figure.js';
import { useReadTime } from '../../strip/shared-reading.js';
import { OpenStage } from './OpenStage.js';
import { pathLayout, type PathLayout } from './path-layout.js';
import type { PathScreenProps } from './path-props.js';
import { stagesInOrder } from './path-stages.js';
import { PathStrands } from './PathStrands.js';
import { RestOfPath } from './RestOfPath.js';
import { sayStagesOn } from './stage-words.js';
import { pointOf, stagesAt } from './stages-at-point.js';
import '../../fields/acts.css';
import './path.css';

/** The path: strands with their stages, and the open stage as detail A. */
export function PathScreen(props: PathScreenProps) {
  const { treatment, open } = props;
  const screen = useRef<HTMLDivElement>(null);
  const layout = useLayout(screen);
  const stages = stagesInOrder(treatment);
  const opened = stages.find(({ key }) => key === open) ?? stages.find(({ instance }) => instance.on) ?? stages[0];
  const read_s = useReadTime();
  const point = useMemo(() => pointOf(treatment, read_s), [treatment, read_s]);
  const lit = useMemo(() => stagesAt(treatment, point), [treatment, point]);
  const onOpen = (address: string): void => {
    props.onOpen(address);
    if (layout?.form === 'single') requestAnimationFrame(() => showOpenStage(screen.current));
  };
  return (
    <div ref={screen} className="path-screen" data-form={layout?.form} data-low={layout?.low}>
      <div className="path-head">
        <h2>
          The path{' '}
          <small>
            {sayStagesOn(stages)}; {sayCount(treatment.hits.length, 'hit')} and{' '}
            {sayCount(treatment.notes.length, 'note')} known
          </small>
        </h2>
        {opened !== undefined && (
          <RestOfPath {...props} onOpen={onOpen} opened={opened.key} folded={layout?.low === true} />
        )}
      </div>
      {layout !== null && opened !== undefined && (
        <>
          <PathStrands
            {...props}
            onOpen={onOpen}
            opened={opened.key}
            width={layout.strands.width}
            depth={layout.strands.depth}
            upright={layout.form !== 'lying'}
            lit={lit}
          />
          <OpenStage {...props} stage={opened} figure={layout.figure} point={point} />
        </>
      )}
    </div>
  );
}

/** In a single column the open stage stands far under its frame: the page goes there. */
function showOpenStage(screen: HTMLElement | null): void {
  screen?.querySelector('.open-stage')?.scrollIntoView({ block: 'start' });
}

function useLayout(element: RefObject<HTMLElement | null>): PathLayout | null {
  const [layout, setLayout] = useState<PathLayout | null>(null);
  useEffect(() => {
    if (element.current === null) return undefined;
    const observer = new ResizeObserver(([entry]) => {
      const { width = 0, height = 0 } = entry?.contentRect ?? {};
      const next = width > 0 ? pathLayout(Math.floor(width), Math.floor(height)) : null;
      setLayout((before) => (JSON.stringify(before) === JSON.stringify(next) ? before : next));
    });
    observer.observe(element.current);
    return () => observer.disconnect();
  }, [element]);
  return layout;
}
