// Every screen of the app by name, and how to come to it; used by the tests that look at all of them.
import type { Page } from 'playwright-core';
import { openDemo, stage } from './support.ts';

export interface Screen {
  name: string;
  open(page: Page): Promise<void>;
}

const at = (hash: string) => async (page: Page) => {
  await page.goto(new URL(hash, page.url()).href);
  await page.locator('main').waitFor();
};

export const tools = [
  'saturation',
  'superheat',
  'targets',
  'quantity',
  'room',
  'hose',
  'vacuum',
  'standing',
  'refrigerant',
  'leak',
  'card',
] as const;

/** The steps of the repair, and what stands beside them. */
export const repair = [
  ...['flammable', 'opening', 'recover', 'capillary', 'repair', 'tightness', 'tracer', 'evacuation', 'rise'],
  ...['charging', 'proof', 'record', 'tube', 'bring', 'worth', 'done_work'],
] as const;

/** The call's stages need an open call: the first of them opens the demo. */
export const screens: readonly Screen[] = [
  { name: 'calls', open: at('#/') },
  {
    name: 'answer',
    open: (page) => openDemo(page, 'dough cooler'),
  },
  ...['unit', 'safety', 'look', 'read', 'do'].map((name) => ({
    name,
    open: (page: Page) => stage(page, name),
  })),
  ...repair.map((part) => ({
    name: `do-${part}`,
    open: async (page: Page) => {
      await stage(page, `do/${part}`);
      await page.locator('.repair-part h2').waitFor();
    },
  })),
  { name: 'handy', open: at('#/handy') },
  ...tools.map((tool) => ({
    name: `handy-${tool}`,
    open: at(`#/handy/${tool}`),
  })),
  { name: 'settings', open: at('#/settings') },
  { name: 'memory', open: at('#/settings/memory') },
];
