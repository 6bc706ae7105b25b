// A tool on the page, with an engine that answers what it is told to.
import { signal, type Signal } from '@preact/signals';
import { render } from 'preact';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { ProblemError } from '../../engine/engine';
import { app } from '../../shell/app';
import { prefs } from '../../shell/prefs';
import { loadWords } from '../../words/words';
import { Handy } from './handy';
import { chooseRefrigerant } from './recent';

vi.mock('../../engine/build/coldwright.wasm?url', () => ({ default: '' }));

const quantity = (text: string, unit: string) => ({ si: 1, value: 1, unit, text });
const phase = { density: quantity('33 lb/ft3', 'lb/ft3') };
const answer = {
  about: {
    program: 'coldwright',
    version: '1',
    data: 'abc',
    references: [{ key: 'k', citation: 'Who (1999)' }],
  },
  refrigerant: 'R290',
  safety_class: 'A3',
  site_pressure: quantity('14.70 psia', 'psia'),
  cautions: [{ key: 'caution_flammable', text: 'R290 burns.', values: {}, words: {} }],
  rows: [
    {
      given: '22 °F',
      gave: 'temperature',
      temperature: quantity('22.00 °F', '°F'),
      pressure: quantity('43.16 psig', 'psig'),
      pressure_absolute: quantity('57.86 psia', 'psia'),
      latent_heat: quantity('164 Btu/lb', 'Btu/lb'),
      liquid: phase,
      vapour: {
        ...phase,
        temperature: quantity('22.00 °F', '°F'),
        pressure_absolute: quantity('57.86 psia', 'psia'),
      },
    },
  ],
};

let asked: { name: string; request: Record<string, unknown> }[];
let root: HTMLElement;
const later = (ms = 0) => new Promise((done) => setTimeout(done, ms));
const saturations = () => asked.filter((a) => a.name === 'saturation').map((a) => a.request);

beforeEach(async () => {
  const drafts = new Map<string, Signal<string>>();
  asked = [];
  app.store = {
    draft: (key: string) => drafts.get(key) ?? drafts.set(key, signal('')).get(key)!,
  } as unknown as typeof app.store;
  app.engine = {
    ask: async (name: string, request: Record<string, unknown>) => {
      asked.push({ name, request });
      if (String(request['at']).startsWith('9999'))
        throw new ProblemError({
          field: 'at',
          given: '"9999 °F"',
          allowed: 'less',
          why: 'too hot',
          text: '',
        });
      return answer;
    },
  } as unknown as typeof app.engine;
  prefs.units.value = 'us';
  await loadWords('en');
  root = document.body.appendChild(document.createElement('div'));
});
afterEach(() => {
  render(null, root);
  root.remove();
});

async function type(field: string, text: string) {
  const input = root.querySelector<HTMLInputElement>(`input[data-name="${field}"]`)!;
  input.value = text;
  input.dispatchEvent(new Event('input', { bubbles: true }));
  await later(20);
}

test('the answer stands while one types, with its caution and its source', async () => {
  render(<Handy tool="saturation" />, root);
  await later(20);
  expect(saturations()).toEqual([]);
  await type('at', '22');
  await vi.waitFor(() =>
    expect(root.querySelector('[data-name="headline"]')!.textContent).toContain('43.16 psig'),
  );
  expect(saturations().at(-1)).toEqual({ refrigerant: 'R290', at: '22 °F', units: 'us' });
  expect(root.textContent).toContain('R290 burns.');
  expect(root.textContent).toContain('Who (1999)');
});

test('a chip replaces the unit, and the other refrigerant and the place are asked with it', async () => {
  render(<Handy tool="saturation" />, root);
  await type('at', '22');
  root.querySelector<HTMLButtonElement>('[data-name="at-psig"]')!.click();
  chooseRefrigerant('R600a');
  app.store.draft('handy.site').value = '5000 ft';
  await vi.waitFor(() =>
    expect(saturations().at(-1)).toEqual({
      refrigerant: 'R600a',
      at: '22 psig',
      altitude: '5000 ft',
      units: 'us',
    }),
  );
  expect(root.querySelector<HTMLInputElement>('input[data-name="at"]')!.value).toBe('22 psig');
});

test('a bare number keeps its unit when the systems are switched', async () => {
  render(<Handy tool="saturation" />, root);
  await type('at', '22');
  root.querySelector<HTMLInputElement>('input[data-name="at"]')!.dispatchEvent(new Event('focusout'));
  root.querySelector<HTMLInputElement>('input[data-name="at"]')!.dispatchEvent(new Event('blur'));
  await later(20);
  prefs.units.value = 'metric';
  await vi.waitFor(() => expect(saturations().at(-1)).toMatchObject({ at: '22 °F', units: 'metric' }));
});

test('a problem stands at its field once the hand rests', async () => {
  render(<Handy tool="saturation" />, root);
  await type('at', '9999');
  expect(root.querySelector('.problem')).toBeNull();
  await vi.waitFor(() => expect(root.querySelector('.problem')?.textContent).toContain('too hot'), 3000);
  expect(root.querySelector('input[data-name="at"]')!.getAttribute('aria-invalid')).toBe('true');
});

test('a lone sign asks nothing', async () => {
  render(<Handy tool="saturation" />, root);
  await type('at', '-');
  expect(saturations()).toEqual([]);
});
