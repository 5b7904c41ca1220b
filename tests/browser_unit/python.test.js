import assert from 'node:assert/strict';
import { test } from 'node:test';
import { connectPython } from '../../site_build/browser/python.js';

/** Stand-ins for the worker; the newest is last. */
function workshop() {
  const made = [];
  const make = () => {
    const worker = { sent: [], ended: false };
    worker.postMessage = (message) => worker.sent.push(message);
    worker.terminate = () => {
      worker.ended = true;
    };
    worker.say = (data) => worker.onmessage?.({ data });
    made.push(worker);
    return worker;
  };
  return { made, python: connectPython(make) };
}

test('nothing starts until it is asked for', () => {
  const { made, python } = workshop();
  const states = [];

  python.onState((state) => states.push(state.state));

  assert.equal(made.length, 0);
  assert.deepEqual(states, ['asleep']);
});

test('one worker answers every question, in any order', async () => {
  const { made, python } = workshop();

  const answers = [python.ask('a'), python.ask('b')];
  made[0].say({ id: 2, answer: 'B' });
  made[0].say({ id: 1, answer: 'A' });

  assert.deepEqual(await Promise.all(answers), ['A', 'B']);
  assert.equal(made.length, 1);
  assert.deepEqual(made[0].sent, [{ id: 1, question: 'a' }, { id: 2, question: 'b' }]);
});

test('states are heard as they come, and no more after leaving', () => {
  const { made, python } = workshop();
  const states = [];
  const leave = python.onState((state) => states.push(state.stage ?? state.state));

  python.start();
  for (const stage of ['python', 'calculators']) made[0].say({ state: 'starting', stage });
  made[0].say({ state: 'ready' });
  leave();
  python.stop();

  assert.deepEqual(states, ['asleep', 'engine', 'python', 'calculators', 'ready']);
});

test('an error in one answer is that answer’s alone', async () => {
  const { made, python } = workshop();

  const bad = python.ask('a');
  const good = python.ask('b');
  made[0].say({ id: 1, error: 'ZeroDivisionError' });
  made[0].say({ id: 2, answer: 'B' });

  await assert.rejects(bad, /ZeroDivisionError/);
  assert.equal(await good, 'B');
});

test('a failed start refuses what waits and what follows, until retried', async () => {
  const { made, python } = workshop();
  const states = [];
  python.onState((state) => states.push(state.state));

  const waiting = python.ask('a');
  made[0].say({ state: 'failed', reason: 'calc.zip: 404' });
  await assert.rejects(waiting, /calc\.zip: 404/);
  await assert.rejects(python.ask('b'), /calc\.zip: 404/);

  python.retry();
  const answer = python.ask('c');
  made[1].say({ state: 'ready' });
  made[1].say({ id: made[1].sent[0].id, answer: 'C' });

  assert.equal(await answer, 'C');
  assert.ok(made[0].ended);
  assert.deepEqual(states, ['asleep', 'starting', 'failed', 'asleep', 'starting', 'ready']);
});

test('a worker that cannot load is a failed start', async () => {
  const { made, python } = workshop();

  const waiting = python.ask('a');
  made[0].onerror({ message: '' });

  await assert.rejects(waiting, /did not start/);
});

test('stopping refuses what waits; a late word of the old worker changes nothing', async () => {
  const { made, python } = workshop();
  const states = [];

  const waiting = python.ask('a');
  python.stop();
  await assert.rejects(waiting, /stopped/);
  python.onState((state) => states.push(state.state));
  made[0].say({ state: 'ready' });

  assert.deepEqual(states, ['asleep']);
  assert.ok(made[0].ended);
});
