import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * For the build: writes into the service worker what the page is made of, and a mark that changes with any byte of it, so that a
 * browser notices every new build.
 */
export function offlineFiles(publicFolder) {
  return {
    name: 'offline-files',
    generateBundle: {
      order: 'post',
      handler(_options, bundle) {
        const worker = bundle['service-worker.js'];
        if (worker === undefined) this.error('The service worker is not among the files of the build.');
        if (worker.imports.length > 0) this.error('The service worker must stand by itself.');
        const made = Object.values(bundle).filter(({ fileName }) => fileName !== 'service-worker.js');
        const files = new Map([
          ...made.map(({ fileName, code, source }) => [fileName, code ?? source]),
          ...readdirSync(publicFolder).map((name) => [name, readFileSync(join(publicFolder, name))]),
        ]);
        const names = [...files.keys()].sort();
        const hash = createHash('sha256').update(worker.code);
        for (const name of names) hash.update(name).update(files.get(name));
        const values = {
          OFFLINE_FILES: JSON.stringify(names),
          OFFLINE_MARK: JSON.stringify(hash.digest('hex').slice(0, 16)),
        };
        worker.code = worker.code.replace(/\bOFFLINE_(FILES|MARK)\b/g, (name) => values[name]);
      },
    },
  };
}
