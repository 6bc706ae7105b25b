// Readings of files: what was read and what is asked for now, one that fails or is stopped, a file put away meanwhile.
import { beforeEach, expect, test, vi } from 'vitest';
import type { TraceLayout } from '../../engine/use_cases';
import { app } from '../../shell/app';
import * as room from './opened';

vi.mock('../../engine/build/coldwright.wasm?url', () => ({ default: '' }));

const layout = (what: string) =>
  ({ columns: [{ what: 'time' }, { what }], time: { form: 'year_first' } }) as unknown as TraceLayout;
const opened = (id: number, what = 'power') =>
  ({ id, file: new File(['x'], `${id}.csv`), layout: layout(what), guess: {} }) as unknown as room.Opened;
const answer = { files: [] };

/** Each reading waits for its turn to end; one that is stopped says so, as the engine does. */
let ends: ((fails?: Error) => void)[] = [];
beforeEach(() => {
  room.cancel();
  [room.files.value, room.found.value, room.trouble.value] = [[opened(1)], null, null];
  ends = [];
  app.engine = {
    trace: (_: unknown, __: unknown, { signal }: { signal: AbortSignal }) =>
      new Promise((done, failed) => {
        ends.push((fails) => (fails ? failed(fails) : done(answer)));
        signal.addEventListener('abort', () => failed(new DOMException('stopped', 'AbortError')));
      }),
  } as unknown as typeof app.engine;
});
const read = async (site = {}) => {
  const reading = room.read(site);
  ends.at(-1)!();
  return reading;
};

test('what was read tells a corrected column from another site', async () => {
  const was = (await read())!;
  expect(room.found.value).toBe(was);
  expect([was.layouts, was.site, was.of]).toEqual([room.layoutsNow(), room.siteKey({}), room.readKey({})]);
  expect(room.siteKey({ altitude: '900 m' })).not.toBe(was.site);
  expect(room.readKey({ altitude: '900 m' })).not.toBe(was.of);
  room.files.value = [opened(1, 'current')];
  expect(room.layoutsNow(), 'a column was corrected').not.toBe(was.layouts);
  room.files.value = [opened(1)];
  expect(room.layoutsNow(), 'and is as it was').toBe(was.layouts);
  room.files.value = [opened(1), opened(2)];
  expect(room.layoutsNow(), 'a file more').not.toBe(was.layouts);
});

test('one that fails or is stopped gives nothing, and what was read before stands', async () => {
  const was = await read();
  const failing = room.read({ altitude: '900 m' });
  ends.at(-1)!(new Error('gone'));
  expect(await failing).toBeNull();
  expect(room.trouble.value?.why).toContain('gone');
  const stopped = room.read({ altitude: '900 m' });
  room.cancel();
  expect(await stopped).toBeNull();
  expect(room.trouble.value).toBeNull();
  expect(room.found.value).toBe(was);
});

test('a file that is put away stops the reading it is in', async () => {
  const reading = room.read({});
  room.remove(1);
  expect(room.share.value).toBeNull();
  ends.at(-1)!();
  expect(await reading).toBeNull();
  expect(room.found.value).toBeNull();
});
