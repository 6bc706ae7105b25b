// A whole repair driven through the app: from a finished diagnosis through the plan, the running tests with their
// verdicts, the account of refrigerant and the proof, to the record taken along.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { browse, named, openDemo, serve, stage, type Page } from './support.ts';

/** Types on the app's own keys, each part of a reading after the other; `minutesAgo` sets its time. */
async function reading(page: Page, minutesAgo: number, values: readonly string[]): Promise<void> {
  await named(page, 'read-now').click();
  await named(page, 'value').waitFor();
  await setTime(page, minutesAgo);
  for (const [i, value] of values.entries()) {
    for (const key of value) await named(page, `key-${key}`).click();
    await page.locator('[data-name="save"]:not([disabled])').waitFor();
    const last = i === values.length - 1;
    if (last && (await named(page, 'save-now').count())) await named(page, 'save-now').click();
    else await named(page, 'save').click();
  }
  await named(page, 'value').waitFor({ state: 'detached' });
}

async function setTime(page: Page, minutesAgo: number): Promise<void> {
  const at = new Date(Date.now() - minutesAgo * 60_000);
  const two = (n: number) => String(n).padStart(2, '0');
  await named(page, 'reading-time').fill(
    `${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`,
  );
}

async function setting(page: Page, key: string, text: string): Promise<void> {
  await named(page, key).fill(text);
  await named(page, key).blur();
}

const settledVerdict = async (page: Page): Promise<string> => {
  await page.locator('[data-busy="false"] [data-name="verdict"]').waitFor({ timeout: 60_000 });
  return (await named(page, 'verdict').getAttribute('data-key'))!;
};

const order = (page: Page) =>
  page
    .locator('[data-name^="step:"]')
    .evaluateAll((rows) => rows.map((r) => r.getAttribute('data-name')!.slice('step:'.length)));

test('the plan: ticked, passed over with a reason, put in order by hand, kept over a reload', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await openDemo(page, 'dough cooler');
  await stage(page, 'do');
  await page.locator('[data-name^="step:"]').first().waitFor();
  const before = await order(page);
  assert.ok(before.length >= 10, before.join());
  await named(page, `tick:${before[0]}`).check({ force: true });
  await named(page, 'arrange').click();
  await named(page, `up:${before[3]}`).click();
  const moved = [before[0], before[1], before[3], before[2], ...before.slice(4)];
  await page.waitForFunction(
    (want) =>
      [...document.querySelectorAll('[data-name^="step:"]')]
        .map((r) => r.getAttribute('data-name')!.slice(5))
        .join() === want,
    moved.join(),
  );
  await named(page, `skip:${before[4]}`).click();
  assert.ok(await named(page, 'skip-save').isDisabled(), 'a step is passed over with a reason only');
  await named(page, 'skip-reason').fill('the tube was changed last week');
  await named(page, 'skip-save').click();
  await page.getByText('the tube was changed last week').waitFor();
  await page.reload();
  await page.locator('[data-name^="step:"]').first().waitFor();
  assert.deepEqual(await order(page), moved);
  assert.ok(await named(page, `tick:${before[0]}`).isChecked());
  await page.getByText('the tube was changed last week').waitFor();
  // Undo walks back: the reason, then the order, then the tick.
  await named(page, 'undo').click();
  await page.getByText('the tube was changed last week').waitFor({ state: 'detached' });
  await named(page, 'undo').click();
  await page.waitForFunction(
    (want) =>
      [...document.querySelectorAll('[data-name^="step:"]')]
        .map((r) => r.getAttribute('data-name')!.slice(5))
        .join() === want,
    before.join(),
  );
  assert.deepEqual(errors, []);
});

test('a pressure test: readings at once entries, a verdict that changes, a slip asked about', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await openDemo(page, 'dough cooler');
  await stage(page, 'do/tightness');
  await named(page, 'procedure:tightness').waitFor();
  await setting(page, 'low_plate', '130 psig');
  await setting(page, 'high_plate', '300 psig');
  await setting(page, 'wanted_pressure', '400 psig');
  await page.locator('.field .problem').first().waitFor(); // above the plate: refused with the reason
  await setting(page, 'wanted_pressure', '120 psig');
  assert.equal(await settledVerdict(page), 'plan');
  await reading(page, 90, ['120.0', '70']);
  await reading(page, 60, ['119.9', '70']);
  const first = await settledVerdict(page);
  assert.equal(first, 'undecided');
  await page.locator('[data-name="curve:tightness_curve"] canvas').waitFor();
  // A reload loses none of it.
  await page.reload();
  assert.equal(await settledVerdict(page), first);
  // A slip is corrected in its place; then the gauge falls as no temperature explains.
  await named(page, 'reading:2').locator('.reading').click();
  await named(page, 'value').waitFor();
  for (const key of '116.0') await named(page, `key-${key}`).click();
  await page.locator('[data-name="save"]:not([disabled])').click();
  await named(page, 'reading:2').getByText('116').waitFor();
  await reading(page, 30, ['112.0', '70']);
  await reading(page, 2, ['108.0', '70']);
  await page.locator('[data-name="verdict"][data-key="leaks"]').waitFor();
  // A reading without the temperature that the others have is asked about, and taken back by undo.
  await named(page, 'read-now').click();
  for (const key of '107.9') await named(page, `key-${key}`).click();
  await page.locator('[data-name="save-now"]:not([disabled])').click();
  await named(page, 'asked-reading').waitFor();
  await named(page, 'undo').click();
  await named(page, 'asked-reading').waitFor({ state: 'detached' });
  assert.equal(await settledVerdict(page), 'leaks');
  // Every number opens to its formula, its inputs and its sources.
  const figure = page.locator('details.figure').first();
  await figure.locator('summary').click();
  await figure.locator('.formula').waitFor();
  assert.ok((await figure.locator('.where dt').count()) > 0);
  assert.deepEqual(errors, []);
});

test('vacuum, charge and proof, to the record in hand', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await openDemo(page, 'dough cooler');

  await stage(page, 'do/rise');
  await named(page, 'procedure:rise').waitFor();
  for (const [ago, microns] of [
    [20, '310'],
    [16, '340'],
    [12, '365'],
    [8, '385'],
    [4, '400'],
    [0, '412'],
  ] as const)
    await reading(page, ago, [microns]);
  const rise = await settledVerdict(page);
  assert.ok(rise);
  await named(page, 'step-done').click();

  await stage(page, 'do/charging');
  await named(page, 'procedure:charging').waitFor();
  assert.ok(await settledVerdict(page));
  await stage(page, 'do/done_work');
  await named(page, 'add:refrigerant_moved').click();
  await named(page, 'write-movement').getByRole('radio', { name: 'charged' }).check();
  await named(page, 'before').fill('3200 g');
  await named(page, 'after').fill('3089 g');
  await named(page, 'write-cylinder').fill('C2');
  await named(page, 'write-save').click();
  await named(page, 'account').getByText('3.92 oz').waitFor();
  await named(page, 'add:work').click();
  await named(page, 'write-text').fill('Compressor changed, drier changed.');
  await named(page, 'write-save').click();
  await named(page, 'add:part').click();
  await named(page, 'write-part').fill('drier');
  await named(page, 'write-save').click();

  await stage(page, 'do/proof');
  await named(page, 'procedure:proof').waitFor();
  await reading(page, 30, ['60']);
  await reading(page, 0, ['44']);
  assert.ok(await settledVerdict(page));
  await page.locator('[data-name^="curve:"] canvas').first().waitFor();

  await stage(page, 'do/record');
  await named(page, 'sign').click();
  await named(page, 'sign-name').fill('Ebba');
  const pad = (await named(page, 'sign-pad').boundingBox())!;
  await page.mouse.move(pad.x + 30, pad.y + 60);
  await page.mouse.down();
  await page.mouse.move(pad.x + 150, pad.y + 90, { steps: 6 });
  await page.mouse.up();
  await named(page, 'sign-save').click();
  await page.locator('.signed .signature path').waitFor();
  for (const [name, starts] of [
    ['take-pdf', '%PDF-'],
    ['take-html', '<!doctype html>'],
    ['take-json', '{'],
    ['take-csv', ''],
  ] as const) {
    const coming = page.waitForEvent('download', { timeout: 60_000 });
    await named(page, name).click();
    const content = readFileSync((await (await coming).path())!, 'latin1');
    assert.ok(content.length > 100, name);
    assert.ok(content.toLowerCase().startsWith(starts.toLowerCase()), `${name}: ${content.slice(0, 40)}`);
  }
  assert.deepEqual(errors, []);
});
