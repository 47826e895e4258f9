import type { SongSource } from '../../protocol/job-messages.js';
import { sourceOfFiles } from './song-source.js';

type PickerWindow = Window & {
  showDirectoryPicker?(options: { mode: 'readwrite' }): Promise<FileSystemDirectoryHandle>;
};

/** Lets the engineer choose a folder: to read and write where the browser can, else to read. Null where nothing was chosen. */
export async function chooseFolder(): Promise<SongSource | null> {
  const { showDirectoryPicker } = window as PickerWindow;
  if (showDirectoryPicker === undefined) return chooseBy({ folder: true });
  try {
    const handle = await showDirectoryPicker.call(window, { mode: 'readwrite' });
    return { kind: 'folder', name: handle.name, handle };
  } catch {
    return null; // closed without a choice
  }
}

export function chooseFiles(): Promise<SongSource | null> {
  return chooseBy({ folder: false });
}

function chooseBy({ folder }: { readonly folder: boolean }): Promise<SongSource | null> {
  const input = document.createElement('input');
  input.type = 'file';
  input.multiple = true;
  input.webkitdirectory = folder;
  // in the page, though unseen, until it is answered: one that nothing holds may be let go, and its answer with it
  input.hidden = true;
  document.body.append(input);
  return new Promise((done) => {
    const answer = (source: SongSource | null): void => {
      input.remove();
      done(source);
    };
    input.onchange = () =>
      answer(input.files === null || input.files.length === 0 ? null : sourceOfFiles([...input.files]));
    input.oncancel = () => answer(null);
    input.click();
  });
}
