import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { keepOffline } from './app/keep-offline.js';
import { WorkbenchApp } from './app/WorkbenchApp.js';
import { Keyboard } from './keys/keyboard.js';
import { KeyboardContext } from './keys/use-keys.js';
import { WorkbenchContext } from './state/use-workbench.js';
import { Workbench } from './state/workbench.js';
import './design/tokens.css';

const sheet = document.getElementById('sheet');
if (sheet !== null) {
  const workbench = new Workbench();
  createRoot(sheet).render(
    <StrictMode>
      <KeyboardContext value={new Keyboard()}>
        <WorkbenchContext value={workbench}>
          <WorkbenchApp />
        </WorkbenchContext>
      </KeyboardContext>
    </StrictMode>,
  );
  keepOffline();
}
