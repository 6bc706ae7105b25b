import { expect, test } from 'vitest';
import { formerCalls } from './former_calls';

const call = (id: string, name: string) => ({ id, name, changed: '', entries: 0, demo: false, open: false });

test('the same beginning of the name, never the call itself, never by a short or empty name', () => {
  const calls = [
    call('1', 'Fish hall, freezer'),
    call('2', 'fish  hall, by the door'),
    call('3', 'Fish'),
    call('4', 'Kiosk'),
  ];
  expect(formerCalls(calls, '1', 'Fish hall, freezer').map((c) => c.id)).toEqual(['2']);
  expect(formerCalls(calls, '9', '').length).toBe(0);
});
