import { useEffect, useRef, type ReactNode } from 'react';
import { Button } from 'react-aria-components';
import { KeyCap } from '../keys/KeyCap.js';

export interface RaisedSheetProps {
  readonly title: string;
  readonly scope: string;
  readonly children: ReactNode;
  onClose(): void;
}

/** What rises over the strip and the working columns; head and bar stay. It takes the focus, and gives it back when it goes. */
export function RaisedSheet({ title, scope, children, onClose }: RaisedSheetProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    heading.current?.focus();
    return () => {
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <main className="raised" aria-label={title}>
      <div className="screen-head">
        <h2 ref={heading} tabIndex={-1}>
          {title} <small>{scope}</small>
        </h2>
        <Button className="word-button slim" onPress={onClose}>
          Close
          <KeyCap action="close" />
        </Button>
      </div>
      {children}
    </main>
  );
}
