// A screen that is loaded when it is looked at: what stands around it is the same while it comes and where it can't be had.
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { loadWords } from '../words/words';
import { later } from './later';

async function shown(load: () => Promise<{ default: () => string }>) {
  await loadWords('en');
  const Screen = later(load, ({ children }) => (
    <div>
      <a href="#/">back</a>
      {children}
    </div>
  ));
  const place = document.createElement('div');
  await act(() => render(<Screen />, place));
  await act(() => new Promise((r) => setTimeout(r)));
  return place.textContent!;
}

test('the way back stands while it comes and where it can’t be had', async () => {
  const coming = await shown(() => new Promise(() => {}));
  expect(coming).toMatch(/^back./);
  const failed = await shown(() => Promise.reject(new Error('no network')));
  expect(failed).toMatch(/^back.*could not be loaded/);
  const there = await shown(async () => ({ default: () => 'the screen' }));
  expect(there).toBe('the screen');
});
