import type { Page } from 'playwright-core';
import type { SongFiles } from './song-files.js';

/*
 * A folder of the browser's own file system in place of one that the engineer would choose: its handles are the real ones, so
 * everything but the choice itself and the browser's question for leave is the way of a user.
 */

/** The page's chooser of folders gives this one, with these files in it. */
export async function chosenFolder(page: Page, name: string, files: SongFiles): Promise<void> {
  await page.evaluate(
    async ([folderName, entries]) => {
      const root = await navigator.storage.getDirectory();
      const folder = await root.getDirectoryHandle(folderName, { create: true });
      for (const [file, base64] of entries) {
        const stream = await (await folder.getFileHandle(file, { create: true })).createWritable();
        await stream.write(Uint8Array.from(atob(base64), (char) => char.charCodeAt(0)));
        await stream.close();
      }
      Object.assign(window, { showDirectoryPicker: () => Promise.resolve(folder) });
    },
    [
      name,
      Object.entries(files).map(([file, bytes]) => [file, Buffer.from(bytes).toString('base64')] as const),
    ] as const,
  );
}

/** The text of one file as it stands now; null where it is not there, or is just being written by the page. */
export function textInFolder(page: Page, name: string, file: string): Promise<string | null> {
  return page.evaluate(
    async ([folderName, fileName]) => {
      try {
        const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle(folderName);
        const text = await (await (await folder.getFileHandle(fileName)).getFile()).text();
        return text === '' ? null : text;
      } catch (error) {
        const passing = ['NotFoundError', 'NotReadableError'];
        if (error instanceof DOMException && passing.includes(error.name)) return null;
        throw error;
      }
    },
    [name, file] as const,
  );
}

/** Every file under the folder, by its path in it; for a page that writes no more. */
export async function filesOfFolder(page: Page, name: string): Promise<Record<string, Uint8Array>> {
  const files = await page.evaluate(async (folderName) => {
    const found: [string, string][] = [];
    const asBase64 = (file: File): Promise<string> =>
      new Promise((done) => {
        const reader = new FileReader();
        reader.onload = () => done((reader.result as string).split(',')[1] ?? '');
        reader.readAsDataURL(file);
      });
    const walk = async (folder: FileSystemDirectoryHandle, path: string): Promise<void> => {
      for await (const [entryName, entry] of folder.entries()) {
        if (entry.kind === 'directory') await walk(entry as FileSystemDirectoryHandle, `${path}${entryName}/`);
        else found.push([`${path}${entryName}`, await asBase64(await (entry as FileSystemFileHandle).getFile())]);
      }
    };
    await walk(await (await navigator.storage.getDirectory()).getDirectoryHandle(folderName), '');
    return found;
  }, name);
  return Object.fromEntries(files.map(([path, base64]) => [path, new Uint8Array(Buffer.from(base64, 'base64'))]));
}
