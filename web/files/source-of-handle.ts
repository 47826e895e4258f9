import type { SongSource } from '../../protocol/job-messages.js';
import { sourceOfFiles } from './song-source.js';

type AskingHandle = FileSystemDirectoryHandle & {
  requestPermission?(options: { mode: Mode }): Promise<PermissionState>;
};
type Mode = 'read' | 'readwrite';

/**
 * A folder that the browser knows from before: to read and write where that is allowed, else to read only. Call it in the handler
 * of a gesture: the browser may ask. Null where it may not be read, or is gone.
 */
export async function sourceOfHandle(handle: FileSystemDirectoryHandle): Promise<SongSource | null> {
  if (await isAllowed(handle, 'readwrite')) return { kind: 'folder', name: handle.name, handle };
  if (!(await isAllowed(handle, 'read'))) return null;
  try {
    return sourceOfFiles(await filesOf(handle), handle.name);
  } catch {
    return null; // moved or taken away since
  }
}

/** Asks the engineer, by the browser's own question; a browser that has no such question allows it. */
export async function isAllowed(handle: FileSystemDirectoryHandle, mode: Mode): Promise<boolean> {
  const answer = await (handle as AskingHandle).requestPermission?.({ mode }).catch(() => 'denied' as const);
  return answer === undefined || answer === 'granted';
}

async function filesOf(handle: FileSystemDirectoryHandle): Promise<File[]> {
  const files: File[] = [];
  for await (const entry of handle.values()) {
    if (entry.kind === 'file') files.push(await (entry as FileSystemFileHandle).getFile());
  }
  return files;
}
