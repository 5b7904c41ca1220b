// @ts-check
import assert from 'node:assert/strict';
import test from 'node:test';
import { lacksUnit, parse, stepOf, stepped, turned, write } from '../../site_build/browser/numbers.js';

test('numbers are read as people type them', () => {
  for (const [text, value] of [['26', 26], ['26,5', 26.5], ['−0.5', -0.5], ['1 250', 1250], ['1\u202f250,5', 1250.5], ['.5', 0.5], ['5.', 5], ['2e3', 2000], [' 7 ', 7]]) {
    assert.equal(parse(/** @type {string} */ (text)), value, String(text));
  }
});

test('what is no number is none', () => {
  for (const text of ['', 'NaN', 'Infinity', '1.2.3', '1,250,000', '0x10', '5 mm', '1 25', '--5', 'e5', '<b>']) assert.equal(parse(text), undefined, text);
});

test('a number is written with six digits, no exponent and the decimal sign of its model', () => {
  assert.equal(write(342.60924), '342.609');
  assert.equal(write(0.00012345678), '0.000123457');
  assert.equal(write(1234567), '1234570');
  assert.equal(write(-2.5, '1,5'), '-2,5');
  assert.equal(write(0), '0');
});

test('writing and reading again loses no more than the sixth digit', () => {
  for (let n = 1; n < 400; n += 1) {
    const value = (n % 2 ? -1 : 1) * 1.37 ** (n % 60) * 10 ** ((n % 9) - 4);
    const back = parse(write(value)) ?? NaN;
    assert.ok(Math.abs(back - value) <= 5.1e-6 * Math.abs(value), `${value} became ${write(value)}`);
  }
});

test('a step is one in the last digit written, but never too fine for the size of the number', () => {
  for (const [text, step] of [['60', 1], ['0.96', 0.01], ['52,6', 0.1], ['2560', 10], ['342.609', 1], ['0', 1], ['', 1], ['-4.5', 0.1]]) {
    assert.ok(Math.abs(stepOf(/** @type {string} */ (text)) - Number(step)) < 1e-12, String(text));
  }
});

test('a step up and a step down come back', () => {
  for (const text of ['60', '0.96', '52,6', '2560', '-4.5', '0']) assert.equal(stepped(stepped(text, 1), -1), text);
  assert.equal(stepped('0.3', -3), '0');
  assert.equal(stepped('abc', 1), 'abc');
  assert.equal(stepped('', 1), '1');
});

test('a sign is turned, and nothing happens to what is no number', () => {
  assert.equal(turned('2,5'), '-2,5');
  assert.equal(turned('-2.5'), '2.5');
  assert.equal(turned('x'), 'x');
});

test('a unit is added to a bare number only', () => {
  for (const text of ['60', '5/8', '1 1/2', '−2,5', '2e3']) assert.ok(lacksUnit(text), text);
  for (const text of ['60 N/mm', '5"', '12°', '5 %', 'abc', '']) assert.ok(!lacksUnit(text), text);
});
