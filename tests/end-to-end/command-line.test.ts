import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { test } from 'node:test';
import { KEELSON, keelsonProcess } from './keelson.js';
import { smallSong } from '../songs/small-song.js';
import { folderWith, stemBytes } from './song-folder.js';

/** Lists every file that a process of Node loads, on its error output. */
const LOADED = `data:text/javascript,${encodeURIComponent(`
  import { register } from 'node:module';
  register('data:text/javascript,' + encodeURIComponent(\`
    import { writeSync } from 'node:fs';
    export async function load(url, context, next) { writeSync(2, 'loaded ' + url + '\\\\n'); return next(url, context); }
  \`));
`)}`;

test('help, the version and a mistake: exit codes, where the words go, nothing heavy loaded', () => {
  for (const [words, exitCode] of [
    [['--help'], 0],
    [['--version'], 0],
    [['inspect'], 2],
    [['mend', 'x'], 2],
  ] as const) {
    const { status, stdout, stderr } = spawnSync(process.execPath, ['--import', LOADED, KEELSON, ...words], {
      encoding: 'utf8',
    });
    assert.equal(status, exitCode, stderr);
    const loaded = stderr.match(/^loaded .*$/gm) ?? [];
    assert.ok(loaded.some((url) => url.includes('/cli/main.js')));
    const heavy = loaded.filter((url) => /\/core\/(measure|dsp|treatment|solve|render|job|findings)\//.test(url));
    assert.deepEqual(
      heavy.filter((url) => !/node_modules/.test(url)),
      [],
    );
    assert.ok(!loaded.some((url) => /node_modules\/(zod|@wasm)/.test(url)));
    const said = stderr.replace(/^loaded .*\n/gm, '');
    assert.ok(exitCode === 0 ? stdout.length > 0 && said === '' : stdout === '' && said.length > 0);
    assert.doesNotMatch(said, /^\s+at /m);
  }
});

test('a missing folder: exit 2, three plain lines, no trace', () => {
  const { status, stdout, stderr } = keelsonProcess('inspect', 'no such song');
  assert.deepEqual([status, stdout], [2, '']);
  assert.equal(stderr.trimEnd().split('\n').length, 3);
});

test('a song in a pipe: the table on the output, no progress beside it; --json is one object; a closed pipe is no fault', async () => {
  const { kick, bass } = smallSong();
  const folder = await folderWith({ 'Kick.wav': stemBytes(kick), 'Bass.wav': stemBytes(bass) });
  const table = keelsonProcess('inspect', folder);
  assert.deepEqual([table.status, table.stderr], [0, '']);
  assert.match(table.stdout, /^Kick\.wav +kick/m);
  const json = keelsonProcess('inspect', folder, '--json');
  assert.equal(typeof JSON.parse(json.stdout), 'object');
  const cut = spawnSync('sh', ['-c', '"$0" "$1" inspect "$2" | true', process.execPath, KEELSON, folder], {
    encoding: 'utf8',
  });
  assert.deepEqual([cut.status, cut.stderr], [0, '']);
});
