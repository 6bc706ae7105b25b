// The screen as a person meets it, with an engine that answers when told to.
import { signal, type Signal } from '@preact/signals';
import { render } from 'preact';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { ProblemError, type Engine, type Grown } from '../../../engine/engine';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { Entry, OpenCall } from '../../../store/store';
import { loadWords } from '../../../words/words';
import type { Answer } from '../live_answer';
import { wanted } from '../wanted';
import { AnswerStage } from './answer';

const quantity = (text: string, si: number) => ({ si, value: si, unit: '', text });
const interval = (low: number, high: number) => ({
  low: quantity('', low),
  mid: quantity('', (low + high) / 2),
  high: quantity('', high),
  text: `${low} to ${high} A`,
});
const cause = (name: string, probability: number, more: Partial<Answer['causes'][number]> = {}) => ({
  cause: name,
  label: name,
  probability,
  error: 0.005,
  probability_text: `${Math.round(100 * probability)} %`,
  in_words: 'likely',
  severity: null,
  severity_2: null,
  severity_text: '',
  ...more,
});

const answerOf = (more: Partial<Answer> = {}): Answer => ({
  about: {
    data: 'd1',
    program: 'coldwright',
    version: '0',
    seed: 1,
    references: [{ key: 'k', citation: 'A (2000), Book' }],
  },
  call: {
    ambient: null,
    box: null,
    cabinet: 'c',
    cabinet_label: 'cooler',
    charge: null,
    name: 'x',
    refrigerant: 'R290',
    safety_class: 'A3',
    site_pressure: quantity('14.7 psia', 101325),
    units: 'us',
  },
  causes: [cause('low charge', 0.7), cause('fan+dirt', 0.27), cause('c', 0.02), cause('d', 0.01)],
  cautions: [{ key: 'burns', text: 'R290 burns.', values: {}, words: {} }],
  evidence: [
    {
      kind: 'reading',
      id: 'amps',
      subject: 'compressor_current',
      label: 'compressor current',
      bits: 0.1,
      log_odds: 2.8,
      given: quantity('2.9 A', 2.9),
      expected_if_sound: interval(3, 5),
      against_sound: 'below',
    },
  ],
  next: [
    {
      subject: 'suction_pressure',
      label: 'suction pressure',
      kind: 'reading',
      bits: 0.4,
      minutes: 15,
      grams_lost: 1.5,
      opens_circuit: true,
      hazard: 'h',
      hazard_text: 'gas escapes',
      worth: 1,
    },
  ],
  quality: {
    effective_sample_size: 80,
    refined_rounds: 0,
    remarks: [],
    smallest_effective_size: 40,
    solves: 900,
    trustworthy: true,
    unsolved: 0,
  },
  reasons: [{ key: 'r', text: 'It draws little.', values: {}, words: {} }],
  remarks: [],
  suspects: [],
  turnings: [],
  unseen: [{ quantity: 'q', label: 'superheat', interval: interval(1, 2), sound: interval(3, 4) }],
  ...more,
});

let answer: (answer: Answer, grown: Grown) => void;
let fail: (error: unknown) => void;
let asked = 0;
let standing: Signal<readonly Entry[]>;
const root = () => document.querySelector<HTMLElement>('#root')!;
const find = (name: string) => root().querySelector<HTMLElement>(`[data-name="${name}"]`);
/** Waits until it holds, as long as this machine takes; drawing and its effects come a moment later. */
const holds = (what: () => void) => vi.waitFor(what, { timeout: 3000, interval: 10 });
const status = () => root().querySelector('[role=status]')?.textContent;
const appears = (name: string) => holds(() => expect(find(name), name).not.toBe(null));

const rough: Grown = { machines: 12, share: 0.1, final: false };
const final: Grown = { machines: 160, share: 1, final: true };

beforeEach(async () => {
  prefs.language.value = 'en';
  await loadWords('en');
  // Its own for each test: what was looked at a moment ago still listens.
  standing = signal<readonly Entry[]>([
    { id: 'plate', kind: 'nameplate', at: '', cabinet: 'reach_in_cooler' },
  ]);
  asked = 0;
  app.store = { memory: signal(null) } as never;
  app.engine = {
    ask: () => new Promise(() => {}),
    trace: () => new Promise(() => {}),
    diagnose: ((_request, onAnswer) =>
      new Promise<void>((_, no) => {
        asked += 1;
        answer = onAnswer;
        fail = no;
      })) as Engine['diagnose'],
  };
  document.body.innerHTML = '<div id="root"></div>';
  const call = {
    id: 'c1',
    standing,
    file: () => ({ call: 'x', entries: [...standing.value] }),
  } as unknown as OpenCall;
  render(<AnswerStage call={call} />, root());
  await holds(() => expect(asked).toBe(1));
});
afterEach(() => {
  render(null, root());
  vi.restoreAllMocks();
});

test('a first answer is marked rough, the settled one is not', async () => {
  answer(answerOf(), rough);
  await appears('lead');
  expect(find('rough')?.textContent).toBe('rough');
  expect(find('growth')?.textContent).toContain('Rough yet: 900 machines');
  answer(answerOf(), final);
  await holds(() => expect(find('rough')).toBe(null));
  expect(find('growth')?.textContent).toContain('Rests on 900 machines');
  await holds(() => expect(status()).toBe('Answer: low charge, likely, 70 %'));
});

test('the first cause stands out, pairs say so, small ones are folded together', async () => {
  answer(answerOf(), final);
  await appears('lead');
  expect(find('lead')?.querySelector('h2')?.textContent).toBe('low charge');
  const others = [...root().querySelectorAll('[data-name=other]')].map((o) => o.textContent);
  expect(others).toHaveLength(2);
  expect(others[0]).toContain('two faults at once');
  expect(root().textContent).toContain('1 other');
});

test('an answer that can not be trusted says so before its numbers', async () => {
  const quality = {
    ...answerOf().quality,
    trustworthy: false,
    remarks: [{ key: 'few', text: 'Only 3 machines fit.', values: {}, words: {} }],
  };
  answer(answerOf({ quality }), final);
  await appears('lead');
  await holds(() => expect(status()).toContain('few machines fit'));
  const text = find('answer')!.textContent!;
  expect(text.indexOf('Only 3 machines fit.')).toBeGreaterThan(-1);
  expect(text.indexOf('Only 3 machines fit.')).toBeLessThan(text.indexOf('70 %'));
  expect(find('rough')?.textContent).toBe('few machines fit');
});

test('a cause that is more likely wrong than right, or hardly ahead, says so', async () => {
  answer(answerOf({ causes: [cause('a', 0.4), cause('b', 0.38), cause('c', 0.22)] }), final);
  await appears('lead');
  expect(find('lead')?.textContent).toContain('more likely something else');
  expect(find('lead')?.textContent).toContain('Hardly more likely than: b');
});

test('with nothing read or seen it says what the percentages are', async () => {
  answer(answerOf({ evidence: [] }), final);
  await appears('lead');
  expect(root().textContent).toContain('Nothing has been read or seen yet.');
});

test('after a change the old answer is set back and said to be old', async () => {
  answer(answerOf(), final);
  await appears('answer');
  standing.value = [...standing.value, { id: 'r', kind: 'reading', at: '', what: 'x', value: '1 A' }];
  await holds(() => expect(find('answer')?.className).toContain('stale'));
  expect(find('growth')?.textContent).toContain('From before this change');
  // The new question is asked within this test, not within the next one.
  await holds(() => expect(asked).toBe(2));
});

test('what a finding weighs, and the way to correct it', async () => {
  answer(answerOf(), final);
  await appears('lead');
  const finding = find('finding-compressor_current')!;
  expect(finding.textContent).toContain('low');
  expect(finding.textContent).toContain('sound machine: 3 to 5 A');
  expect(finding.textContent).toContain('strongly for it, 4.0 bits');
  expect(finding.getAttribute('href')).toBe('#/call/c1/read');
  finding.click();
  expect(wanted.value).toEqual({ kind: 'reading', subject: 'compressor_current', entry: 'amps' });
});

test('a next reading says what it costs and what it does, and leads there', async () => {
  answer(answerOf(), final);
  await appears('lead');
  const step = find('next-suction_pressure')!;
  for (const part of ['15 minutes', 'loses about 1.5 g', 'Opens the sealed circuit', 'gas escapes'])
    expect(step.textContent).toContain(part);
  step.click();
  expect(wanted.value).toEqual({ kind: 'reading', subject: 'suction_pressure' });
  // The general cautions come before the list, where the hand is about to act.
  const text = root().textContent!;
  expect(text.indexOf('R290 burns.')).toBeLessThan(text.indexOf('Worth reading next'));
});

test("what is missing is told in the core's words, with the way to give it", async () => {
  standing.value = [];
  await holds(() => expect(asked).toBe(2));
  const why = 'without the kind of cabinet there is no machine to compare with';
  fail(new ProblemError({ field: 'nameplate, cabinet', given: 'nothing', allowed: 'one', why, text: why }));
  await appears('missing');
  expect(find('missing')?.textContent).toContain(why);
  expect(find('to-missing')?.getAttribute('href')).toBe('#/call/c1/unit');
});

test.each([
  ['entrada 2 (lectura), presión', '"30 psi"', 'read'],
  ['entrada 3 (observación)', 'x', 'look'],
  ['lectura, presión', '"40 psig" (e2)', 'read'],
  ['placa, carga', '"9 kg"', 'unit'],
])('what is wrong in %s with %s is put right under %s', async (field, given, stage) => {
  standing.value = [
    ...standing.value,
    { id: 'e2', kind: 'reading', at: '' },
    { id: 'e3', kind: 'observation', at: '' },
  ];
  await holds(() => expect(asked).toBe(2));
  fail(new ProblemError({ field, given, allowed: '', why: 'w', text: 't' }));
  await appears('missing');
  expect(find('to-missing')?.getAttribute('href')).toBe(`#/call/c1/${stage}`);
});

test('when the reckoning breaks off it can be taken up again', async () => {
  fail(new Error('out of memory'));
  await appears('again');
  expect(root().textContent).toContain('out of memory');
  find('again')!.click();
  await holds(() => expect(asked).toBe(2));
  answer(answerOf(), final);
  await appears('lead');
  expect(find('again')).toBe(null);
});
