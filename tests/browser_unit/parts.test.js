// @ts-check
import assert from 'node:assert/strict';
import test from 'node:test';
import { numberText } from '../../site_build/browser/answer.js';
import { cellsOf } from '../../site_build/browser/grid.js';
import { isOtherPage } from '../../site_build/browser/navigate.js';
import { inWords as readingInWords, nearest } from '../../site_build/browser/readout.js';
import { inWords, offlineInWords } from '../../site_build/browser/status.js';

test('copied cells are told apart by tabs, semicolons or wide gaps', () => {
  const wanted = [['a', '1,5'], ['b', '2']];
  for (const text of ['a\t1,5\nb\t2', 'a;1,5\r\nb;2\r\n', 'a   1,5\n\nb   2']) assert.deepEqual(cellsOf(text), wanted);
  assert.deepEqual(cellsOf('1\n2'), [['1'], ['2']]);
  assert.deepEqual(cellsOf(''), []);
  assert.deepEqual(cellsOf('a\t\tc'), [['a', '', 'c']]);
});

test('the nearest row is found, rows without a number passed over', () => {
  assert.equal(nearest([NaN, 1, 2, 4], 3.2), 3);
  assert.equal(nearest([1, 2, 4], -5), 0);
  assert.equal(nearest([1, NaN, 4], 2), 0);
});

test('a reading names each curve that has a point there', () => {
  assert.equal(readingInWords(['Travel (mm)', 'Left (N)', 'Right (N)'], ['5', '10', '']), 'Travel (mm) 5 – Left (N): 10');
});

test('numbers that would be misread in an equation stand in brackets, as in the page as it was built', () => {
  assert.deepEqual(['−5', '2.5', '2 × 10⁻⁷'].map(numberText), ['(−5)', '2.5', '(2 × 10⁻⁷)']);
});

test('links to other pages of the book are followed here, all others by the browser', () => {
  const top = 'http://host/book/';
  const here = `${top}springs/a.html`;
  for (const href of [`${top}springs/b.html`, `${top}index.html#x`, top]) assert.ok(isOtherPage(href, here, top), href);
  for (const href of [`${here}#part`, 'http://host/other/b.html', 'http://elsewhere/b.html', `${top}car.toml`, 'mailto:a@b.c']) {
    assert.ok(!isOtherPage(href, here, top), href);
  }
});

test('states are said in words', () => {
  assert.equal(inWords({ state: 'ready' }), 'live');
  assert.match(inWords({ state: 'starting', stage: 'python' }), /2 of 3/);
  assert.match(offlineInWords({ state: 'saving', saved: 10, total: 40 }), /25 %/);
  assert.match(offlineInWords({ state: 'failed', reason: 'no room' }), /no room/);
  assert.match(offlineInWords({ state: 'update' }), /Ready offline/);
});
