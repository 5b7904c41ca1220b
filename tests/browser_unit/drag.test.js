// @ts-check
import assert from 'node:assert/strict';
import test from 'node:test';
import { heldStill, inWords, keyed, scaleOf } from '../../site_build/browser/drag.js';
import { writeTo } from '../../site_build/browser/numbers.js';

const plain = scaleOf('300,-300,26,400');
const mirrored = scaleOf('-250,-250,380,390');

/** @param {import('../../site_build/browser/drag.js').Scale} scale @param {number} across @param {number} up */
const drawn = ({ a, b, c, d }, across, up) => [a * across + c, b * up + d];

/** @param {number[]} place @param {number[]} box @returns {number[]} as shares of the width and the height shown */
const onScreen = ([x, y], [left, top, width, height]) => [(x - left) / width, (y - top) / height];

test('a drawing of another scale is shown where the first one stood', () => {
  const first = [0, 0, 400, 360];
  for (const [then, now] of [[plain, scaleOf('210,-210,80,333')], [mirrored, scaleOf('-410,-410,300,280')]]) {
    const box = heldStill(then, first, now);
    for (const [across, up] of [[0, 0], [0.64, 0.15], [-0.3, 0.9]]) {
      const [x, y] = onScreen(drawn(now, across, up), box);
      const [x0, y0] = onScreen(drawn(then, across, up), first);
      assert.ok(Math.abs(x - x0) < 1e-12 && Math.abs(y - y0) < 1e-12);
    }
    assert.ok(Math.abs(box[2] / box[3] - 400 / 360) < 1e-12, 'its shape on the page stays');
  }
  assert.deepEqual(heldStill(plain, first, plain), first);
});

test('keys move a point the way they point on the screen, ten times as far with Shift', () => {
  assert.deepEqual(keyed('ArrowRight', false, plain), [0.001, -0]);
  assert.deepEqual(keyed('ArrowUp', true, plain), [0, 0.01]);
  assert.deepEqual(keyed('ArrowRight', false, mirrored), [-0.001, -0]);
  assert.equal(keyed('Enter', false, plain), undefined);
});

test('a point is named with the cells of its two columns', () => {
  assert.equal(inWords({ name: 'lower_ball_joint', axes: ['y', 'z'] }, ['640 mm', '150 mm']), 'lower ball joint: y 640 mm, z 150 mm');
});

test('a pulled value has no more decimals than a tape can tell, in any unit', () => {
  assert.equal(writeTo(640.0437, 0.1), '640');
  assert.equal(writeTo(-12.3456, 0.1), '-12.3');
  assert.equal(writeTo(25.19843, 0.1 / 25.4), '25.198');
  assert.equal(writeTo(0.640437, 1e-4), '0.6404');
  assert.equal(writeTo(640.26, 0.1, '640,2'), '640,3');
});
