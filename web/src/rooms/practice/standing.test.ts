// The one practice call: what was tapped stays, what was decided is final, damage is not taken for a call.
import { signal } from '@preact/signals';
import { beforeEach, expect, test } from 'vitest';
import { app } from '../../shell/app';
import { begin, decide, read, standing, take, throwAway } from './standing';

const text = signal('');
const asked: string[] = [];
beforeEach(() => {
  text.value = '';
  asked.length = 0;
  app.store = { draft: (key: string) => (asked.push(key), text) } as never;
});

test('every tap is in the kept text, in its order, and none of it in a call', () => {
  begin({ seed: 7, level: 'first' });
  take('compressor');
  take('condenser_face');
  expect(read(text.value)).toEqual({
    of: { seed: 7, level: 'first' },
    actions: ['compressor', 'condenser_face'],
    decision: null,
  });
  expect(new Set(asked)).toEqual(new Set(['practice']));
});

test('after the decision nothing is added and the decision stays', () => {
  begin({ recorded: 'one' });
  take('compressor');
  decide('low_charge');
  take('drier');
  decide('overcharge');
  expect(standing()).toEqual({ of: { recorded: 'one' }, actions: ['compressor'], decision: 'low_charge' });
});

test('thrown away is gone', () => {
  begin({ seed: 7, level: 'hard' });
  throwAway();
  expect(standing()).toBeNull();
  take('compressor');
  expect(text.value).toBe('');
});

test.each([
  '{',
  '7',
  '{"of":{"seed":1.5,"level":"first"},"actions":[],"decision":null}',
  '{"of":{"seed":1,"level":"easy"},"actions":[],"decision":null}',
  '{"of":{"seed":1,"level":"first"},"actions":[3],"decision":null}',
  '{"of":{"seed":1,"level":"first"},"actions":[]}',
])('what is damaged is no call: %s', (damaged) => {
  expect(read(damaged)).toBeNull();
});
