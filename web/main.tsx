import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { WorkbenchApp } from './app/WorkbenchApp.js';
import { WorkbenchContext } from './state/use-workbench.js';
import { Workbench } from './state/workbench.js';
import './design/tokens.css';

const sheet = document.getElementById('sheet');
if (sheet !== null) {
  const workbench = new Workbench();
  createRoot(sheet).render(
    <StrictMode>
      <WorkbenchContext value={workbench}>
        <WorkbenchApp />
      </WorkbenchContext>
    </StrictMode>,
  );
}
