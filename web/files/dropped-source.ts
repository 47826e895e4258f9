import type { SongSource } from '../../protocol/job-messages.js';
import { sourceOfFiles } from './song-source.js';
import { isAllowed } from './source-of-handle.js';

/** What was dropped: one folder, or files. Call it in the handler of the drop; the list of items is gone afterwards. */
export async function droppedSource(transfer: DataTransfer): Promise<SongSource> {
  const items = [...transfer.items].filter(({ kind }) => kind === 'file');
  const files = [...transfer.files];
  const [only] = items;
  if (items.length !== 1 || only === undefined) return sourceOfFiles(files);
  const entry = only.webkitGetAsEntry();
  if (entry === null || !entry.isDirectory) return sourceOfFiles(files);
  const handle = 'getAsFileSystemHandle' in only ? await handleOf(only) : null;
  if (handle !== null && (await isAllowed(handle, 'readwrite'))) return { kind: 'folder', name: handle.name, handle };
  return sourceOfFiles(await filesIn(entry as FileSystemDirectoryEntry), entry.name);
}

type HandleItem = DataTransferItem & { getAsFileSystemHandle(): Promise<FileSystemHandle | null> };

async function handleOf(item: DataTransferItem): Promise<FileSystemDirectoryHandle | null> {
  const handle = await (item as HandleItem).getAsFileSystemHandle();
  return handle?.kind === 'directory' ? (handle as FileSystemDirectoryHandle) : null;
}

async function filesIn(folder: FileSystemDirectoryEntry): Promise<File[]> {
  const reader = folder.createReader();
  const files: File[] = [];
  for (;;) {
    const batch = await new Promise<FileSystemEntry[]>((done, fail) => reader.readEntries(done, fail));
    if (batch.length === 0) return files;
    for (const entry of batch) {
      if (entry.isFile)
        files.push(await new Promise<File>((done, fail) => (entry as FileSystemFileEntry).file(done, fail)));
    }
  }
}
