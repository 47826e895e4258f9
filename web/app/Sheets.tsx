import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import type { ReactNode } from 'react';
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

/** The head with the song and its facts, the four sheets as tabs, the strip, and the sheet that is shown. */
export function Sheets({ sheet, title, facts, ready, strip, children, onSheet }: SheetsProps) {
  return (
    <Tabs className="sheets" selectedKey={sheet} onSelectionChange={(key) => onSheet(key as Sheet)}>
      <header className="sheet-head">
        <h1>{title}</h1>
        <p>{facts}</p>
        <TabList className="sheet-tabs" aria-label="Sheets">
          {SHEETS.map((id, n) => (
            <Tab key={id} id={id} isDisabled={!ready.has(id)}>
              <span aria-hidden="true">{n + 1}</span>
              {SHEET_WORDS[id]}
            </Tab>
          ))}
        </TabList>
      </header>
      {strip}
      <TabPanel key={sheet} id={sheet} className="working">
        {children}
      </TabPanel>
    </Tabs>
  );
}
