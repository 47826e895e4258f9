/** `npm start`, also as the very first command on a fresh clone: installs, builds, serves the workbench on this machine only. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { build } from './build.mjs';
import { install } from './install.mjs';
import { root } from './run-step.mjs';
import { serveSite } from './site-server.mjs';

// the same address each time, so that the browser finds the sessions it keeps
const PORT = 4173;

install();
build();
const site = join(root, 'dist', 'site');
const { address } = await serveSite(site, PORT).catch(() => serveSite(site));
process.stdout.write(`\nThe workbench stands at ${address}\nEnd it with Ctrl+C.\n`);
if (hasDesktop() && !process.argv.includes('--no-open')) openInBrowser(address);

function hasDesktop() {
  if (process.platform !== 'linux') return true;
  return Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}

function openInBrowser(url) {
  const [command, args] =
    process.platform === 'darwin'
      ? ['open', [url]]
      : process.platform === 'win32'
        ? ['explorer', [url]]
        : ['xdg-open', [url]];
  // where nothing can open it, the printed address is enough
  spawn(command, args, { stdio: 'ignore', detached: true })
    .on('error', () => undefined)
    .unref();
}
