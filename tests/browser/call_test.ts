// A whole call by tapping: the demo from answer to the end, and one typed from scratch on a phone.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { browse, named, openDemo, serve, settled, stage, type Page } from './support.ts';

const answers = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../data/demo/answers.json'), 'utf8'),
) as Record<string, unknown>;

/** Types on the keypad's own keys, as a thumb does. */
async function enter(page: Page, digits: string): Promise<void> {
  await named(page, 'value').waitFor();
  for (const key of digits) await named(page, `key-${key}`).click();
  await named(page, 'save').click();
  await named(page, 'value').waitFor({ state: 'detached' });
}

/** A call begun, with its cabinet chosen. */
async function begin(page: Page, name: string, cabinet: string): Promise<void> {
  await named(page, 'new-call').click();
  await named(page, 'call-name').fill(name);
  await named(page, 'begin').click();
  await choose(page, cabinet);
}
const choose = (page: Page, cabinet: string) =>
  page.locator('label', { has: named(page, `cabinet-${cabinet}`) }).click();

async function plate(page: Page, field: string, digits: string): Promise<void> {
  await named(page, field).click();
  await enter(page, digits);
}

/** Three taps at most and one number: the place, maybe which of its readings, then the keys. */
async function read(page: Page, part: string, what: string, digits: string): Promise<void> {
  const single = named(page, `reading:${what}`).and(page.locator('.spot'));
  if (await single.count()) await single.click();
  else {
    await named(page, `part:${part}`).click();
    await named(page, `reading:${what}`).locator('visible=true').last().click();
  }
  await enter(page, digits);
}

test('the demo call, stage by stage', async () => {
  assert.ok(Object.keys(answers).length > 0);
  const server = await serve();
  const { page, errors } = await browse(server);
  await openDemo(page, 'dough cooler');
  await page
    .getByRole('heading', { name: /compressor runs without pumping/ })
    .first()
    .waitFor();
  for (const tab of ['Unit', 'Safety', 'Look', 'Read', 'Do', 'Answer']) {
    await page.getByRole('navigation').getByRole('link', { name: tab }).click();
    await page.waitForURL(new RegExp(`/${tab.toLowerCase()}$`));
    await page.locator('main').getByRole('button').first().waitFor();
  }
  // A finding corrected changes the answer.
  await stage(page, 'look');
  await named(page, 'observe:condenser_fan').getByRole('radio', { name: 'stopped' }).check();
  await stage(page, 'answer');
  await settled(page);
  await named(page, 'undo').click();
  await settled(page);
  await page
    .getByRole('heading', { name: /compressor runs without pumping/ })
    .first()
    .waitFor();
  assert.deepEqual(errors, []);
});

test('a call typed from scratch with the thumb', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await begin(page, 'Fish hall, reach-in by the door', 'reach_in_cooler');
  await plate(page, 'plate:charge', '4.1');
  await plate(page, 'plate:rated_current', '2.6');
  await plate(page, 'plate:rated_voltage', '115');
  await plate(page, 'plate:set_point', '37');
  await plate(page, 'site:ambient', '82');
  await plate(page, 'site:box', '66');
  await stage(page, 'look');
  for (const [subject, value] of [
    ['complaint', 'not cooling'],
    ['compressor', 'running'],
    ['condenser_fan', 'running'],
    ['evaporator_fan', 'running'],
    ['condenser_face', 'clean'],
  ] as const)
    await named(page, `observe:${subject}`).getByRole('radio', { name: value, exact: true }).check();
  await stage(page, 'read');
  await read(page, 'compressor', 'compressor_current', '1.23');
  await read(page, 'condenser', 'condenser_middle_temp', '83');
  await read(page, 'drier_liquid_line', 'liquid_line_temp', '84');
  await read(page, 'suction_line', 'suction_pressure', '105.2');
  await stage(page, 'answer');
  await settled(page);
  assert.match(await named(page, 'answer').innerText(), /runs without pumping/);
  assert.deepEqual(errors, []);
});

test('nobody is asked for a fan that the machine does not have', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await begin(page, 'Clinic, vaccine shelf', 'reach_in_cooler');
  const fan = named(page, 'observe:condenser_fan');
  await stage(page, 'look');
  await fan.getByRole('radio', { name: 'running', exact: true }).check();
  await stage(page, 'unit');
  await named(page, 'plate:cabinet').click();
  await choose(page, 'still_air_refrigerator');
  await stage(page, 'look');
  await fan.getByRole('radio', { name: 'running', exact: true }).click(); // what was said of one can be taken back
  await fan.waitFor({ state: 'detached' });
  await named(page, 'observe:compressor').waitFor();
  assert.deepEqual(errors, []);
});

test('a new version waits for the person, and takes no call away', async () => {
  const { cpSync, mkdtempSync, appendFileSync } = await import('node:fs');
  const { tmpdir } = await import('node:os');
  const { appFolder, keptOffline } = await import('./support.ts');
  const folder = mkdtempSync(join(tmpdir(), 'coldwright-app-'));
  cpSync(appFolder, folder, { recursive: true });
  let server = await serve(folder);
  const browser = await browse(server);
  const { page } = browser;
  await keptOffline(page);
  await openDemo(page, 'fish hall');
  await server.stop();
  // The next version: the same files with another service worker.
  for (const kind of ['', '.br', '.gz'])
    if (kind === '') appendFileSync(join(folder, 'sw.js'), '\n// another version\n');
    else
      (await import('node:fs')).rmSync(join(folder, `sw.js${kind}`), {
        force: true,
      });
  server = await serve(folder, server.port);
  await page.evaluate(async () => void (await navigator.serviceWorker.getRegistration())?.update());
  await page.waitForFunction(() => document.querySelector('[data-name="answer"]') !== null);
  await page.goto(server.address + '/#/');
  await named(page, 'take-update').waitFor();
  assert.match(await page.locator('main').innerText(), /fish hall/i);
  await named(page, 'take-update').click();
  await page.waitForLoadState();
  await page
    .getByText(/bait freezer/)
    .first()
    .click();
  await page.locator('nav.bottom').waitFor();
});
