import { createReadStream, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize, sep } from 'node:path';

/** What the page may do: its own files only, no host but this one. The hash is the one style that react-aria sets (touch-action). */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self' 'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
  '.json': 'application/json',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
};

/** Serves the built page on loopback only. @returns its address and what ends it. */
export function serveSite(folder, port = 0) {
  const server = createServer((request, response) => answer(folder, request, response));
  return new Promise((done, fail) => {
    server.once('error', fail);
    server.listen(port, '127.0.0.1', () => {
      const close = () => {
        server.closeAllConnections();
        return new Promise((closed) => server.close(closed));
      };
      done({ address: `http://127.0.0.1:${server.address().port}/`, close });
    });
  });
}

function answer(folder, request, response) {
  const path = fileOf(folder, request.url ?? '/');
  const found = path !== null && statSync(path, { throwIfNoEntry: false })?.isFile();
  if (!found || !['GET', 'HEAD'].includes(request.method)) {
    response.writeHead(404, { 'content-type': 'text/plain' }).end('There is nothing here.\n');
    return;
  }
  response.writeHead(200, {
    'content-type': TYPES[extname(path)] ?? 'application/octet-stream',
    'content-security-policy': CONTENT_SECURITY_POLICY,
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
    'cache-control': path.includes(`${sep}assets${sep}`) ? 'public, max-age=31536000, immutable' : 'no-cache',
  });
  if (request.method === 'HEAD') response.end();
  else createReadStream(path).pipe(response);
}

/** The file a path names, never outside the folder; null where the path is broken. */
function fileOf(folder, url) {
  try {
    const path = normalize(decodeURIComponent(new URL(url, 'http://loopback').pathname));
    return join(folder, path.endsWith(sep) ? join(path, 'index.html') : path);
  } catch {
    return null;
  }
}
