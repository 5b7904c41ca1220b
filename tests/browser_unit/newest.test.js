import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newest } from '../../site_build/browser/newest.js';

/** An ask whose answers come when the test says so. */
function slow() {
  const asked = [];
  const ask = (question) => new Promise((resolve, reject) => asked.push({ question, resolve, reject }));
  return { ask, asked };
}

const settled = () => new Promise((resolve) => setTimeout(resolve));

test('at most one question is in flight and only the newest waits', async () => {
  const { ask, asked } = slow();
  const put = newest(ask);

  const answers = ['a', 'b', 'c', 'd'].map(put);
  assert.deepEqual(asked.map((each) => each.question), ['a']);
  asked[0].resolve('A');
  await settled();
  assert.deepEqual(asked.map((each) => each.question), ['a', 'd']);
  asked[1].resolve('D');

  assert.deepEqual(await Promise.all(answers), ['A', undefined, undefined, 'D']);
});

test('a failure reaches its own question and does not stop the next', async () => {
  const { ask, asked } = slow();
  const put = newest(ask);

  const first = put('a');
  const second = put('b');
  asked[0].reject(new Error('no'));
  await assert.rejects(first, /no/);
  await settled();
  asked[1].resolve('B');

  assert.equal(await second, 'B');
});

test('after a pause a question is asked at once', async () => {
  const { ask, asked } = slow();
  const put = newest(ask);

  for (const question of ['a', 'b']) {
    const answer = put(question);
    asked.at(-1).resolve(question);
    assert.equal(await answer, question);
  }
  assert.equal(asked.length, 2);
});
