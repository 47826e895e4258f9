import assert from 'node:assert/strict';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { renderBlocks, renderSong, type RenderedSong, type RenderSource } from '../../core/render/render-song.js';
import { SoundHash } from '../../core/signal/sound-hash.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { busyDemoTreatment, demoChanges, demoPiece } from './demo-piece.js';
import { openBrowser } from './find-browser.js';
import { serveFolder, type ServedFolder } from './serve-folder.js';

/*
 * Live and printed sound are equal to the last bit (docs/decisions.md, "Sound"): the worklet in a browser against the renderer
 * in Node, by a hash of the float64 buses inside the engine and by every float32 sample that comes out.
 */

const ROLES = ['kick', 'bass', 'rest'] as const;
/** Long enough for a machine that is busy with other things; nothing waits for it to pass. */
const PATIENCE_ms = 240_000;
const CHUNK_FRAMES = 48_000 - (48_000 % 128);
const dist = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

let browser: Browser;
let page: Page;
let served: ServedFolder;
let source: RenderSource;

before(async () => {
  served = await serveFolder(dist, (path) => {
    if (path === '/one-sound') return '<!doctype html><title>sound</title>';
    const [, role, index, side] = /^\/sound\/(\w+)\/(\d+)\/(left|right)$/.exec(path) ?? [];
    if (role === undefined) return null;
    const channel = source.tracks[role as 'kick'][Number(index)]!.signal[side as 'left'];
    return new Uint8Array(channel.buffer, channel.byteOffset, channel.byteLength);
  });
  browser = await openBrowser();
  page = await browser.newPage();
  page.setDefaultTimeout(PATIENCE_ms);
});
after(async () => {
  await browser.close();
  await served.close();
});

interface Heard {
  readonly hashes: Readonly<Record<(typeof ROLES)[number], string>> | null;
  /** What the engine refused: the message that is none, and nothing else. */
  readonly refused: readonly string[];
  /** Base64 of the six treated channels, one after another. */
  readonly sound: string;
}

/** Plays the song in an OfflineAudioContext through the worklet: every bus, `extraFrames` longer than the song. */
async function hear(treatment: Treatment, changes: ReturnType<typeof demoChanges>): Promise<Heard> {
  await page.goto(`${served.address}/one-sound`);
  const counts = ROLES.map((role) => source.tracks[role].length);
  return await page.evaluate(
    async ({ treatment, changes, counts, frameCount, rate, chunkFrames, patience_ms }) => {
      const channelOf = async (role: string, index: number, side: string) =>
        new Float32Array(await (await fetch(`/sound/${role}/${index}/${side}`)).arrayBuffer());
      const context = new OfflineAudioContext(6, frameCount + rate, rate);
      await context.audioWorklet.addModule('/worklet/engine-processor.js');
      const node = new AudioWorkletNode(context, 'keelson-engine', {
        numberOfInputs: 0,
        numberOfOutputs: 8,
        outputChannelCount: [2, 2, 2, 2, 2, 2, 2, 2],
      });
      const merger = context.createChannelMerger(6);
      for (let o = 0; o < 3; o++) {
        const splitter = context.createChannelSplitter(2);
        node.connect(splitter, o);
        splitter.connect(merger, 0, 2 * o);
        splitter.connect(merger, 1, 2 * o + 1);
      }
      merger.connect(context.destination);
      const refused: string[] = [];
      const told = <Data>(kind: string, take: (data: Data) => void): Promise<void> =>
        new Promise((done) =>
          node.port.addEventListener('message', ({ data }) => {
            if (data.kind !== kind) return;
            take(data);
            done();
          }),
        );
      let hashes: { kick: string; bass: string; rest: string } | null = null;
      const answered = told('refused', ({ sentence }: { sentence: string }) => refused.push(sentence));
      const ended = told('hash', ({ kick, bass, rest }: NonNullable<typeof hashes>) => (hashes = { kick, bass, rest }));
      node.port.start();
      const song = { kind: 'song', treatment, frameCount, chunkFrames, lane: null, changes, hashed: true };
      node.port.postMessage(song);
      const tracks = await Promise.all(
        ['kick', 'bass', 'rest'].map((role, r) =>
          Promise.all(
            Array.from({ length: counts[r]! }, async (_, i) => ({
              left: await channelOf(role, i, 'left'),
              right: await channelOf(role, i, 'right'),
            })),
          ),
        ),
      );
      const piece = (channel: Float32Array, at: number) => {
        const part = new Float32Array(chunkFrames);
        part.set(channel.subarray(at, at + chunkFrames));
        return part;
      };
      for (let index = 0; index * chunkFrames < frameCount; index++) {
        const [kick, bass, rest] = tracks.map((list) =>
          list.map(({ left, right }) => ({
            left: piece(left, index * chunkFrames),
            right: piece(right, index * chunkFrames),
          })),
        );
        node.port.postMessage({ kind: 'chunk', index, sound: { kick, bass, rest } });
      }
      node.port.postMessage({ kind: 'play' });
      // what is no message is refused, after all before it was taken: then the audio thread may begin
      node.port.postMessage(null);
      await answered;
      const rendered = await context.startRendering();
      await Promise.race([ended, new Promise((done) => setTimeout(done, patience_ms))]);
      const all = new Float32Array(6 * rendered.length);
      for (let c = 0; c < 6; c++) all.set(rendered.getChannelData(c), c * rendered.length);
      const url = await new Promise<string>((done) => {
        const reader = new FileReader();
        reader.onload = () => done(reader.result as string);
        reader.readAsDataURL(new Blob([all]));
      });
      return { hashes, refused, sound: url.slice(url.indexOf(',') + 1) };
    },
    {
      treatment,
      changes,
      counts,
      frameCount: source.frameCount,
      rate: source.sampleRate_Hz,
      chunkFrames: CHUNK_FRAMES,
      patience_ms: PATIENCE_ms,
    },
  );
}

function hashesOf(printed: RenderedSong) {
  const [kick, bass, rest] = ROLES.map((role) => {
    const hash = new SoundHash();
    hash.add(printed[role]!.left, printed[role]!.right, 0, source.frameCount);
    return hash.digest();
  });
  return { kick, bass, rest };
}

/** The same list of changes, rendered in Node in the host's own blocks. */
function hashesInBlocks(treatment: Treatment, blockFrames: number) {
  const changes = demoChanges(source.sampleRate_Hz);
  const hashes = { kick: new SoundHash(), bass: new SoundHash(), rest: new SoundHash() };
  renderBlocks(source, treatment, { roles: ROLES, changes, blockFrames }, ({ frameCount, output }) => {
    for (const role of ROLES) hashes[role].add(output[role]!.left, output[role]!.right, 0, frameCount);
  });
  return { kick: hashes.kick.digest(), bass: hashes.bass.digest(), rest: hashes.rest.digest() };
}

for (const rate of [44_100, 48_000, 96_000]) {
  test(`every stage on, settings changing: the worklet at ${rate} Hz is the renderer to the last bit`, async () => {
    source = demoPiece(rate);
    const treatment = busyDemoTreatment(rate);
    const changes = demoChanges(rate);
    const printed = renderSong(source, treatment, { roles: ROLES, changes });
    const expected = ROLES.flatMap((role) => [printed[role]!.left, printed[role]!.right]);
    const { hashes, refused, sound } = await hear(treatment, changes);
    assert.equal(refused.length, 1, refused.join(' '));
    const bytes = Buffer.from(sound, 'base64');
    const heard = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
    assert.deepEqual(hashes, hashesOf(printed), 'float64 inside the engine');
    if (rate === 48_000) assert.deepEqual(hashes, hashesInBlocks(treatment, 128), 'blocks of 128 and of 4096');
    // The worklet is silent for the whole blocks in which it runs its latency; then the song begins, with its own silence.
    const length = heard.length / 6;
    const bass = expected[2]!;
    const late = heard.subarray(2 * length).findIndex((v) => v !== 0) - bass.findIndex((v) => Math.fround(v) !== 0);
    assert.ok(late >= 0 && late % 128 === 0 && late < rate / 4, `begins ${late} frames late`);
    for (let c = 0; c < 6; c++) {
      for (let n = 0; n < source.frameCount; n++) {
        const got = heard[c * length + late + n];
        if (got !== Math.fround(expected[c]![n]!)) assert.fail(`channel ${c}, frame ${n}: ${got}, ${expected[c]![n]}`);
      }
    }
  });
}
