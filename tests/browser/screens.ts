// Every screen of the app by name, and how to come to it; used by the tests that look at all of them.
import type { Page } from 'playwright-core';
import { oddLog } from './logs.ts';
import { named, openDemo, stage } from './support.ts';

export interface Screen {
  name: string;
  open(page: Page): Promise<void>;
}

const at = (hash: string) => async (page: Page) => {
  await page.goto(new URL(hash, page.url()).href);
  await page.locator('main').waitFor();
};

/** The practice room with this much done on machine 6 of the first level; null for none begun. A reload on the way, as
    what is kept is read once a page. */
export async function practise(
  page: Page,
  done: { actions: readonly string[]; decision?: string; seed?: number } | null,
): Promise<void> {
  await at('#/settings')(page);
  await page.evaluate((d) => {
    const text = d && {
      of: { seed: d.seed ?? 6, level: 'first' },
      actions: d.actions,
      decision: d.decision ?? null,
    };
    localStorage.setItem(
      'coldwright.draft.practice',
      JSON.stringify({ text: text ? JSON.stringify(text) : '', at: Date.now() }),
    );
  }, done);
  await at('#/practice')(page);
  await page.reload();
  if (!done) await named(page, 'level:first').waitFor();
  else if (!done.decision) await page.locator(`[data-steps="${done.actions.length}"]`).waitFor();
}

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
  {
    name: 'read-series',
    open: async (page) => {
      await stage(page, 'read/series');
      await named(page, 'series-same').waitFor();
      const values = named(page, 'stamped');
      for (let n = await values.count(); n < 3; ++n) {
        await named(page, 'series-same').click();
        await values.nth(n).waitFor();
      }
      await named(page, 'plot').waitFor();
    },
  },
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
  {
    name: 'trace',
    open: async (page) => {
      await at('#/trace')(page);
      await named(page, 'files').setInputFiles({
        ...{ name: 'nacht.csv', mimeType: 'text/csv' },
        buffer: Buffer.from(oddLog()),
      });
      await named(page, 'read-it').waitFor();
    },
  },
  {
    name: 'trace-answer',
    open: async (page) => {
      await named(page, 'what:0').selectOption('suction_line_temp');
      await named(page, 'what:4').selectOption('ambient_temp');
      await named(page, 'read-it').click();
      await named(page, 'trace-answer').waitFor();
    },
  },
  { name: 'practice', open: (page) => practise(page, null) },
  { name: 'practice-machine', open: (page) => practise(page, { actions: ['compressor', 'condenser_fan'] }) },
  {
    name: 'practice-decide',
    open: async (page) => {
      await practise(page, { actions: ['compressor', 'condenser_fan'] });
      await named(page, 'decide').click();
      await named(page, 'confirm').waitFor();
    },
  },
  {
    name: 'practice-debrief',
    open: async (page) => {
      await practise(page, { actions: ['compressor', 'suction_pressure'], decision: 'overcharge' });
      await named(page, 'verdict').waitFor({ timeout: 60_000 });
    },
  },
  { name: 'settings', open: at('#/settings') },
  { name: 'memory', open: at('#/settings/memory') },
];
