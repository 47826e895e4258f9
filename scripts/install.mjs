import { existsSync, lstatSync, readFileSync, unlinkSync } from 'node:fs';
import { join } from 'node:path';
import { root, runStep } from './run-step.mjs';

/** Installs what package-lock.json names, unless exactly that is there already. `node_modules` may be a link. */
export function install() {
  checkNodeVersion();
  const difference = differenceFromLock();
  if (difference === null) return;
  const folder = join(root, 'node_modules');
  // `npm ci` empties the folder it finds: a link is taken away first, so that nobody else's packages go
  if (lstatSync(folder, { throwIfNoEntry: false })?.isSymbolicLink()) unlinkSync(folder);
  const npm = process.env.npm_execpath;
  const viaNode = npm !== undefined && npm.endsWith('npm-cli.js');
  const args = ['ci', '--no-fund', '--no-audit'];
  runStep(`install (${difference})`, viaNode ? [npm, ...args] : args, viaNode ? process.execPath : 'npm');
}

function checkNodeVersion() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major > 20 || (major === 20 && minor >= 19)) return;
  process.stderr.write(`Node ${process.versions.node}: too old.\nInstall Node 20.19 or newer, then run this again.\n`);
  process.exit(2);
}

/** @returns the first way in which what is installed differs from the lock file, or null. */
function differenceFromLock() {
  const installedFile = join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(installedFile)) return 'no node_modules';
  const wanted = packagesOf(join(root, 'package-lock.json'));
  const installed = packagesOf(installedFile);
  for (const [path, { version, integrity, optional }] of Object.entries(wanted)) {
    if (path === '') continue;
    const found = installed[path];
    // builds for other machines are optional and rightly missing
    if (found === undefined && optional) continue;
    if (found === undefined) return `${path} is missing`;
    if (found.version !== version || found.integrity !== integrity) return `${path} is not ${version}`;
    if (!existsSync(join(root, path, 'package.json'))) return `${path} is empty`;
  }
  return null;
}

function packagesOf(lockFile) {
  return JSON.parse(readFileSync(lockFile, 'utf8')).packages;
}
