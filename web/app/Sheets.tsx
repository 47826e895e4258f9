import { useId, type ComponentProps, type ReactNode } from 'react';
import { Tab, TabList, Tabs } from 'react-aria-components';
import { SHEETS, type Sheet } from '../state/workbench-state.js';

const SHEET_WORDS: Readonly<Record<Sheet, string>> = {
  stems: 'Stems',
  findings: 'Findings',
  path: 'Path',
  proof: 'Proof',
};

export interface SheetsProps {
  readonly sheet: Sheet;
  readonly title: string;
  readonly facts: ReactNode;
  /** Sheets that can be looked at already. */
  readonly ready: ReadonlySet<Sheet>;
  /** What stands under the head on every sheet. */
  readonly strip: ReactNode;
  readonly children: ReactNode;
  onSheet(sheet: Sheet): void;
}

/**
 * The head with the song and its facts, the four sheets as tabs, the strip, and the sheet that is shown. The panel is our own:
 * the one that comes with the tabs lays the whole sheet out at every change in it, to learn whether it holds something to tab to.
 */
export function Sheets({ sheet, title, facts, ready, strip, children, onSheet }: SheetsProps) {
  const panel = useId();
  return (
    <Tabs className="sheets" selectedKey={sheet} onSelectionChange={(key) => onSheet(key as Sheet)}>
      <header className="sheet-head">
        <h1>{title}</h1>
        <p>{facts}</p>
        <TabList className="sheet-tabs" aria-label="Sheets">
          {SHEETS.map((id, n) => (
            <Tab
              key={id}
              id={id}
              isDisabled={!ready.has(id)}
              render={(tab) => (
                <div {...(tab as ComponentProps<'div'>)} aria-controls={id === sheet ? panel : undefined} />
              )}
            >
              <span aria-hidden="true">{n + 1}</span>
              {SHEET_WORDS[id]}
            </Tab>
          ))}
        </TabList>
      </header>
      {strip}
      <div key={sheet} id={panel} role="tabpanel" aria-label={SHEET_WORDS[sheet]} className="working">
        {children}
      </div>
    </Tabs>
  );
}
