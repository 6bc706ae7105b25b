// A procedure's screen with an engine that answers what it is told to: what is typed is asked about at once and
// becomes an entry when the field is left; a reading is an entry at once; a slip the core asks about is marked.
import { render } from 'preact';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { ProblemError } from '../../../engine/engine';
import { app } from '../../../shell/app';
import { emptyDisk, FaultyPort } from '../../../store/faulty_port';
import type { OpenCall } from '../../../store/store';
import { makeStore, MemoryStorage } from '../../../store/test_surroundings';
import { loadWords } from '../../../words/words';
import type { ProcedureAnswer } from './answer_types';
import { ProcedureScreen } from './procedure_screen';
import { procedures } from './procedures';

vi.mock('../../../engine/build/coldwright.wasm?url', () => ({ default: '' }));
vi.mock('./curve_plot', () => ({ plotCurve: () => () => {} }));

const told: ProcedureAnswer = {
  procedure: 'tightness',
  refrigerant: 'R290',
  safety_class: 'A3',
  verdict: { key: 'undecided', text: 'Not decided yet.' },
  cautions: [{ key: 'c', text: 'Stand aside.' }],
  statements: [],
  asks: [{ key: 'scatter', text: 'Was it one gauge?' }],
  figures: [
    {
      key: 'smallest_leak',
      label: 'smallest leak',
      value: null,
      text: '4 g/yr',
      formula: 'm = V dp / (Z R T)',
      where: [{ key: 'volume', symbol: 'V', label: 'volume', text: '1.8 L' }],
      cited: ['k'],
      basis: 'published',
      basis_text: 'published',
    },
  ],
  tables: [],
  curves: [],
  about: {
    program: '',
    version: '1',
    data: 'a',
    references: [
      { key: 'k', citation: 'Who (1999)' },
      { key: 'l', citation: 'Another (2001)' },
    ],
  },
};

const asked: { name: string; request: Record<string, unknown> }[] = [];
let answering: () => ProcedureAnswer;
let call: OpenCall;
let root: HTMLElement;
beforeEach(async () => {
  asked.length = 0;
  answering = () => told;
  app.engine = {
    ask: vi.fn(async (name: string, request: Record<string, unknown>) => {
      asked.push({ name, request });
      if (name === 'tightness') return answering();
      throw new ProblemError({ field: 'command', given: name, allowed: '', why: '', text: '' });
    }),
  } as never;
  app.store = await makeStore({ port: new FaultyPort(emptyDisk()), storage: new MemoryStorage() });
  call = await app.store.create('x', [{ kind: 'nameplate', cabinet: 'reach_in_cooler' }]);
  await loadWords('en');
  root = document.createElement('div');
  document.body.append(root);
});
afterEach(() => {
  render(null, root);
  root.remove();
});

const settle = (ms = 250) => act(() => new Promise<void>((r) => setTimeout(r, ms)));
const show = async () => {
  await act(() =>
    render(<ProcedureScreen call={call} procedure={procedures.get('tightness')!} planned={[]} />, root),
  );
  await settle();
};
const find = <E extends HTMLElement>(name: string) => root.querySelector<E>(`[data-name="${name}"]`)!;
const type = async (name: string, text: string) => {
  const field = find<HTMLInputElement>(name);
  await act(() => {
    field.value = text;
    field.dispatchEvent(new Event('input', { bubbles: true }));
  });
};
const leave = (name: string) => act(() => void find(name).dispatchEvent(new FocusEvent('blur')));
const settings = () => call.standing.value.filter((e) => e.kind === 'procedure');

test('verdict, question back and the figure with what is behind it', async () => {
  await show();
  expect(find('verdict').textContent).toBe('Not decided yet.');
  expect(find('asked:scatter').textContent).toBe('Was it one gauge?');
  expect(find('headline').textContent).toContain('4 g/yr');
  const figure = find('figure:smallest_leak').textContent!;
  for (const part of ['m = V dp / (Z R T)', 'volume', '1.8 L', 'Who (1999)']) expect(figure).toContain(part);
  expect(figure).not.toContain('Another (2001)');
});

test('a setting is asked about while it is typed, and an entry once it is left; undo gives back the former', async () => {
  await show();
  await type('volume', '2 L');
  expect(settings()).toEqual([]);
  await settle();
  expect(asked.at(-1)!.request).toMatchObject({ volume: '2 L', run: 1 });
  await leave('volume');
  await settle();
  expect(settings()).toMatchObject([{ procedure: 'tightness', run: 1, with: { volume: '2 L' } }]);
  expect(asked.at(-1)!.request.volume).toBeUndefined(); // the call says it now
  expect(asked.at(-1)!.request.call_text).toContain('2 L');
  await type('volume', '3 L');
  await leave('volume');
  await settle();
  expect(settings()).toMatchObject([{ with: { volume: '3 L' } }]);
  await act(() => call.undo());
  expect(find<HTMLInputElement>('volume').value).toBe('2 L');
  // Emptied and left, it is taken away.
  await type('volume', '');
  await leave('volume');
  await settle();
  expect(settings()).toEqual([]);
});

test('what is typed outlives the screen', async () => {
  await show();
  await type('volume', '2');
  render(null, root);
  await show();
  expect(find<HTMLInputElement>('volume').value).toBe('2');
  expect(settings()).toEqual([]);
});

test('a reading the core asks about is marked, with the question and the way to correct it', async () => {
  for (const [at, pressure] of [
    ['2026-05-01T10:00:00Z', '120 psig'],
    ['2026-05-01T10:30:00Z', '119 psig'],
  ] as const)
    await call.add({ kind: 'test_reading', procedure: 'tightness', run: 1, at, pressure });
  await show();
  expect(root.querySelectorAll('.reading-list li').length).toBe(2);
  expect(find('reading:2').textContent).toContain('30:00');
  answering = () => {
    throw new ProblemError({ field: 'reading 2', given: '10:30', allowed: 'later', why: 'why', text: '' });
  };
  await call.add({
    kind: 'test_reading',
    procedure: 'tightness',
    run: 1,
    at: '2026-05-01T10:30:00Z',
    pressure: '118 psig',
  });
  for (let i = 0; i < 3; ++i) await settle(50); // effects run at the end of each
  expect(find('asked-reading').textContent).toContain('10:30');
  expect(find('reading:2').className).toContain('wrong');
  expect(find('verdict').textContent).toBe('Not decided yet.'); // the last one stays in sight
  await act(() => find('correct-asked').click());
  expect(find('reading-time')).not.toBeNull();
});
