// Files reach the core whole and in order, in pieces; a refusal, a stop and a file that went away end it.
import { expect, test } from 'vitest';
import { feedFiles, type TraceCore } from './trace_files';

class FakeCore implements TraceCore {
  text = '';
  opened: string[] = [];
  refuseAt = Infinity;
  pieces = 0;
  traceOpen(name: string) {
    this.opened.push(name);
    return '{"ok":true}';
  }
  traceFeed(bytes: Uint8Array<ArrayBuffer>) {
    this.text += new TextDecoder().decode(bytes);
    return ++this.pieces >= this.refuseAt ? '{"problem":{}}' : '{"ok":true}';
  }
  traceAnswer() {
    return '{"ok":{}}';
  }
}
const file = (name: string, text: string) => ({ name, layout: '{}', file: new Blob([text]) });

test('every byte, file after file, and the share of them told', async () => {
  const core = new FakeCore();
  const shares: number[] = [];
  const text = 'a;b\n'.repeat(100_000);
  const said = await feedFiles(core, [file('one', text), file('two', 'end')], (s) => !!shares.push(s));
  expect(said).toBe('{"ok":{}}');
  expect(core.opened).toEqual(['one', 'two']);
  expect(core.text).toBe(text + 'end');
  expect(shares.at(-1)).toBeCloseTo(0.7);
  expect([...shares].sort((a, b) => a - b)).toEqual(shares);
});

test('stops when it is told to, and where the core refuses', async () => {
  const stopped = new FakeCore();
  expect(await feedFiles(stopped, [file('one', 'x'), file('two', 'y')], () => false)).toBe('');
  expect(stopped.opened).toEqual(['one']);
  const refusing = new FakeCore();
  refusing.refuseAt = 1;
  expect(await feedFiles(refusing, [file('one', 'x')], () => true)).toBe('{"problem":{}}');
});

test('a file that went away is told by its name', async () => {
  const gone = {
    size: 9,
    stream: () => new ReadableStream({ pull: (c) => c.error(new Error('it is gone')) }),
  } as unknown as Blob;
  const said = await feedFiles(new FakeCore(), [{ name: 'log.csv', layout: '', file: gone }], () => true);
  expect(JSON.parse(said)).toMatchObject({
    problem: { field: 'unreadable', given: 'log.csv', why: 'it is gone' },
  });
});
