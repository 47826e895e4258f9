import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Finding } from '../findings/finding.js';
import { formatAddress } from '../treatment/paths.js';
import { PlainError } from '../units/plain-error.js';
import { addressOfStatistic, stageRequests, wishableStatistics } from './stage-requests.js';

const NOTHING = { accepted: [], wishes: [], settings: new Map() };

function finding(id: string, address: string, wish: string, settings: Record<string, number | boolean> = {}): Finding {
  const stage = address.split('.').at(-1);
  return {
    ...{ id, severity: 1, sentence: 'A test.', leaveItWhen: 'never', evidence: { meanLeft: 0.01 } },
    where: { files: [], hits_s: [], notes: [], bands_Hz: [], times_s: [] },
    suggest: { stage, address, wish, settings, expected: null },
  } as unknown as Finding;
}

function askedOf(requests: ReturnType<typeof stageRequests>): string[] {
  return requests.map(({ address }) => formatAddress(address));
}

const wide = finding('wide-lows', 'bass.centre', 'centre.foldDownLoss_dB <= 1 dB');

test('nothing agreed to, nothing asked', () => assert.deepEqual(stageRequests(NOTHING), []));

test('a finding asks its stage by its wish, and trim comes along to hold the lows', () => {
  const requests = stageRequests({ ...NOTHING, accepted: [wide] });
  assert.deepEqual(askedOf(requests), ['bass.centre', 'bass.trim']);
  assert.deepEqual(requests[0]!.wish, { statistic: 'centre.foldDownLoss_dB', low: null, high: 1 });
  assert.deepEqual(
    requests.map(({ because }) => because),
    [['wide-lows'], ['lows held']],
  );
});

test('make room alone needs no trim; a stem of the rest neither', () => {
  const room = finding('covered-kick', 'bass.make-room', 'clearance.share2dB >= 90 %');
  const rumble = finding('rumble', 'rest["Keys.wav"].clean', '', { lowCut: true });
  assert.deepEqual(askedOf(stageRequests({ ...NOTHING, accepted: [room, rumble] })), [
    'bass.make-room',
    'rest["Keys.wav"].clean',
  ]);
});

test('a low cut on the bass is asked of the kick too: linked, so that their agreement stays', () => {
  const rumble = finding('rumble', 'bass.clean', '', { lowCut: true });
  const requests = stageRequests({ ...NOTHING, accepted: [rumble] });
  assert.deepEqual(askedOf(requests).sort(), ['bass.clean', 'bass.trim', 'kick.clean']);
});

test('a wish goes before a finding on the same stage, and a hand before both', () => {
  const wishes = [{ statistic: 'centre.foldDownLoss_dB', low: null, high: 0.3 }];
  const settings = new Map([['bass.centre.amount_percent', 40]]);
  const [centre] = stageRequests({ accepted: [wide], wishes, settings });
  assert.equal(centre!.wish!.high, 0.3);
  assert.equal(centre!.settings['amount_percent'], 40);
  assert.ok(centre!.given.has('amount_percent'));
  assert.deepEqual(centre!.because, ['wide-lows', 'wish', 'set']);
});

test('every statistic that can be wished for has its stage', () => {
  for (const statistic of wishableStatistics()) assert.ok(addressOfStatistic(statistic) !== null, statistic);
  assert.equal(formatAddress(addressOfStatistic('carry.laptop_LU')!), 'bass.low.harmonics');
  assert.equal(addressOfStatistic('headroom.left_dB'), null);
});

test('what fits nothing is refused in plain words', () => {
  const wish = { statistic: 'headroom.left_dB', low: 3, high: null };
  assert.throws(() => stageRequests({ ...NOTHING, wishes: [wish] }), PlainError);
  for (const [address, value] of [
    ['bass.trim', 1],
    ['bass.trim.gain_dB', 99],
    ['bass.trim.gain_dB', ''],
    ['bass.clean.lowCut', 'perhaps'],
    ['bass.even.which', 'some'],
  ] as const) {
    assert.throws(() => stageRequests({ ...NOTHING, settings: new Map([[address, value]]) }), PlainError, address);
  }
});
