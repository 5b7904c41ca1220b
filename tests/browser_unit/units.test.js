// @ts-check
import assert from 'node:assert/strict';
import test from 'node:test';
import { connectMemory } from '../../site_build/browser/remember.js';
import { connectUnits, convertText } from '../../site_build/browser/units.js';

const storage = () => {
  /** @type {Map<string, string>} */
  const kept = new Map();
  return /** @type {Storage} */ (
    /** @type {unknown} */ ({
      getItem: (/** @type {string} */ key) => kept.get(key) ?? null,
      setItem: (/** @type {string} */ key, /** @type {string} */ value) => void kept.set(key, value),
      removeItem: (/** @type {string} */ key) => void kept.delete(key),
    })
  );
};
const C = { symbol: '°C', factor: 1, offset: 273.15 };
const F = { symbol: '°F', factor: 5 / 9, offset: 273.15 - (32 * 5) / 9 };
const MM = { symbol: 'mm', factor: 0.001, offset: 0 };
const IN = { symbol: 'in', factor: 0.0254, offset: 0 };

test('a text is converted, with an offset where the unit has one', () => {
  assert.equal(convertText('100', C, F), '212');
  assert.equal(convertText('-40', F, C), '-40');
  assert.equal(convertText('25,4', MM, IN), '1');
  assert.equal(convertText('12,7', MM, IN), '0,5');
});

test('a text that is no number stays', () => assert.equal(convertText('about 5', MM, IN), 'about 5'));

test('a choice is kept, told to everyone, and found again', () => {
  const kept = storage();
  const units = connectUnits(connectMemory(() => kept));
  /** @type {string[]} */
  const heard = [];
  const stop = units.onChange((usual) => heard.push(usual));
  units.choose('N/mm', 'lbf/in');
  stop();
  units.choose('kg', 'lb');

  assert.deepEqual(heard, ['N/mm']);
  assert.deepEqual(connectUnits(connectMemory(() => kept)).all(), { 'N/mm': 'lbf/in', kg: 'lb' });
});

test('spoilt storage is taken for empty', () => {
  const kept = storage();
  for (const text of ['{', '[]', '{"v":1,"value":"x"}', '{"v":9,"value":{"kg":"lb"}}', '{"v":1,"value":{"kg":5}}']) {
    kept.setItem('handbook:units', text);
    assert.deepEqual(connectUnits(connectMemory(() => kept)).all(), {}, text);
  }
});

test('forbidden or full storage is no failure', () => {
  const memory = connectMemory(() => {
    throw new Error('SecurityError');
  });

  assert.equal(memory.load('x'), undefined);
  assert.equal(memory.save('x', 1), false);
  memory.forget('x');
});

test('what is saved is loaded, and forgotten when asked', () => {
  const kept = storage();
  const memory = connectMemory(() => kept);

  assert.equal(memory.save('x', { a: ['1 mm'] }), true);
  assert.deepEqual(memory.load('x'), { a: ['1 mm'] });
  memory.forget('x');
  assert.equal(memory.load('x'), undefined);
});
