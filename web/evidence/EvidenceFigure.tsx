import { useContext, useEffect, useId, useMemo, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import type { Place } from '../marks/drawing.js';
import type { EvidencePanel } from './evidence-panel.js';
import { EvidenceTableView } from './EvidenceTableView.js';
import { SharedReadingContext, useReadTime } from '../strip/shared-reading.js';
import { nearestPlace, placeAtTime, placeByKey } from './read-places.js';
import { useWindowSize } from '../strip/use-window-size.js';
import { useWidth } from './use-width.js';
import './evidence.css';

interface EvidenceFigureProps {
  readonly panel: EvidencePanel;
  readonly asTable: boolean;
  /** A place that lies somewhere in the song was taken: show it in the strip. */
  readonly onGoTo?: (time_s: number) => void;
}

/** One figure of the evidence: read by pointer or arrows, or shown as a table. */
export function EvidenceFigure({ panel, asTable, onGoTo }: EvidenceFigureProps) {
  const [box, width] = useWidth('evidence');
  return (
    <section className="evidence-panel" ref={box}>
      <h3>
        {panel.heading} {panel.scope !== '' && <small>{panel.scope}</small>}
      </h3>
      {asTable ? (
        <EvidenceTableView table={panel.table} caption={panel.axis} />
      ) : (
        width > 0 && <ReadFigure panel={panel} width={width} {...(onGoTo ? { onGoTo } : {})} />
      )}
    </section>
  );
}

/** On a window this low the figures of a finding are drawn closer, so that they stand together. */
const CLOSE_UNDER_px = 960;

function ReadFigure({ panel, width, onGoTo }: Omit<EvidenceFigureProps, 'asTable'> & { readonly width: number }) {
  const close = useWindowSize().height < CLOSE_UNDER_px;
  const height = panel.height(width, close);
  const drawing = useMemo(() => panel.draw(width, height), [panel, width, height]);
  const shared = useContext(SharedReadingContext);
  const [own, setOwn] = useState<Place | null>(null);
  const elsewhere_s = useReadTime();
  const setRead = (place: Place | null): void => {
    setOwn(place);
    shared.point(place?.time_s ?? null);
  };
  useEffect(() => () => shared.point(null), [shared]);
  const figure = useRef<SVGSVGElement>(null);
  const axis = useId();
  const places = drawing.places ?? [];
  const read = own ?? placeAtTime(places, elsewhere_s);
  const take = (): void => {
    if (read?.time_s === undefined) return;
    shared.pin(read.time_s);
    onGoTo?.(read.time_s);
  };
  const onPointerMove = (event: PointerEvent): void => {
    const { left, top } = figure.current!.getBoundingClientRect();
    setRead(nearestPlace(places, event.clientX - left, event.clientY - top));
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === 'Enter') take();
    if (event.key === 'Escape') shared.pin(null);
    const next = placeByKey(places, read, event.key, event.shiftKey);
    if (next === undefined) return;
    event.preventDefault();
    setRead(next);
  };
  return (
    <figure className="evidence-figure">
      <figcaption id={axis} data-reads={read !== null} aria-live="polite">
        {read?.says ?? panel.axis}
      </figcaption>
      {height > 0 && (
        <svg
          ref={figure}
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="application"
          aria-roledescription="figure"
          aria-label={`${panel.heading}. ${panel.describes} Arrows read it.`}
          aria-describedby={axis}
          tabIndex={0}
          onPointerMove={onPointerMove}
          onPointerLeave={() => setRead(null)}
          onClick={take}
          onKeyDown={onKeyDown}
          onBlur={() => setRead(null)}
        >
          <DrawingSvg drawing={drawing} />
          {read !== null && (
            <line
              x1={read.x}
              x2={read.x}
              y1={read.top}
              y2={read.bottom}
              stroke="var(--ink)"
              className="evidence-hairline"
            />
          )}
        </svg>
      )}
      {panel.key !== undefined && <p className="evidence-key">{panel.key}</p>}
    </figure>
  );
}
