import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
};

/** A folder served on loopback, with pages and sound made by the test beside it. */
export interface ServedFolder {
  readonly address: string;
  close(): Promise<void>;
}

/** Serves files of `folder`; `made` gives what a path holds before the folder is looked at. */
export async function serveFolder(
  folder: string,
  made: (path: string) => string | Uint8Array | null = () => null,
): Promise<ServedFolder> {
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://loopback').pathname));
    const own = made(path);
    const answer = own === null ? readFile(join(folder, path)) : Promise.resolve(own);
    answer.then(
      (body) => {
        const type = own === null ? TYPES[extname(path)] : typeof own === 'string' ? TYPES['.html'] : undefined;
        response.writeHead(200, { 'content-type': type ?? 'application/octet-stream' }).end(body);
      },
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}`,
    close: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}
