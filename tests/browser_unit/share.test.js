// @ts-check
import assert from 'node:assert/strict';
import test from 'node:test';
import { fromFragment, isShared, isValue, LinkProblem, toFragment } from '../../site_build/browser/share.js';

const INPUTS = { rate: '26 N/mm', wet: true, holes: [['near', '10 mm', false]] };
const SHARED = { name: 'lever', id: 'it', inputs: INPUTS, units: { mm: 'in' } };

test('a link brings back what was put in', async () => {
  const fragment = await toFragment(SHARED);

  assert.ok(isShared(fragment));
  assert.match(fragment, /^#share=[\w-]+$/);
  assert.deepEqual(await fromFragment(fragment), SHARED);
});

test('a long link is not made', async () => {
  const noise = Array.from({ length: 2000 }, () => [`${Math.random()} mm`]);

  await assert.rejects(toFragment({ ...SHARED, inputs: { holes: noise } }), LinkProblem);
});

test('a spoilt link is refused whichever letter is lost', async () => {
  const fragment = await toFragment(SHARED);
  for (let at = '#share='.length; at < fragment.length; at += 7) {
    const spoilt = fragment.slice(0, at);
    await assert.rejects(fromFragment(spoilt), LinkProblem, spoilt);
  }
});

test('a small link that unfolds to a huge one is stopped on the way', async () => {
  const bomb = new Blob([' '.repeat(50_000_000)]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  const bytes = new Uint8Array(await new Response(bomb).arrayBuffer());
  const text = Buffer.from(bytes).toString('base64url');

  await assert.rejects(fromFragment(`#share=${text}`), LinkProblem);
});

test('only shapes that a form makes are values', () => {
  for (const value of ['', '5 mm', true, [['a', 'b'], [false, '1']]]) assert.ok(isValue(value));
  for (const value of [5, null, undefined, {}, ['a'], [[5]], [[{}]], 'x'.repeat(81), Array(2001).fill([''])]) assert.ok(!isValue(value));
});
