// Logger files and series typed by hand, with the real server and browser: guessed, corrected, read, plotted, taken into
// a call and out again; what is no trace and a reading that is stopped lose nothing.
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { longLog, oddLog } from './logs.ts';
import { browse, named, serve, stage, type Page } from './support.ts';

const file = (name: string, text: string) => ({
  name,
  mimeType: 'text/csv',
  buffer: Buffer.from(text),
});
const openFiles = (page: Page, ...files: ReturnType<typeof file>[]) =>
  named(page, 'files').setInputFiles(files);
const answer = (page: Page) => named(page, 'trace-answer').waitFor();

async function newCall(page: Page, name: string): Promise<void> {
  await named(page, 'new-call').click();
  await named(page, 'call-name').fill(name);
  await named(page, 'begin').click();
  await page.waitForURL(/#\/call\//);
}
const view = (page: Page) =>
  named(page, 'plot').evaluate((e) => ({
    from: Number(e.dataset.from),
    to: Number(e.dataset.to),
  }));

test('an odd file: corrected in one place, read, plotted, in the call after a reload, and out again', async () => {
  const server = await serve();
  const { page, errors } = await browse(server, { locale: 'de-DE' });
  await newCall(page, 'Clinic, reach-in on the second floor');
  await stage(page, 'read');
  await named(page, 'to-trace').click();
  await openFiles(page, file('nacht.csv', oddLog()));

  // The guess: semicolons, decimal commas, the day first, the time in the second column.
  await named(page, 'read-it').waitFor();
  const guess = named(page, 'file:nacht.csv');
  assert.match(await guess.innerText(), /semicolons[^]*comma[^]*day first/);
  assert.match(await guess.innerText(), /14\.03\.2026 21:00:00/, 'the first rows as they stand');
  assert.equal(await named(page, 'what:1').inputValue(), 'time');
  assert.equal(await named(page, 'what:2').inputValue(), 'power');
  assert.equal(await named(page, 'what:3').inputValue(), 'suction_pressure');
  assert.equal(await named(page, 'unit:3').inputValue(), 'bar(g)');
  assert.equal(await named(page, 'what:4').inputValue(), 'box_temp', 'what has to be corrected');
  await named(page, 'what:4').selectOption('ambient_temp');
  await named(page, 'what:0').selectOption('suction_line_temp');
  assert.equal(await named(page, 'unit:0').inputValue(), '°C', 'a unit that was right stays');

  await named(page, 'read-it').click();
  await answer(page);
  assert.match(await named(page, 'used').innerText(), /1499 of 1500/);
  await page.getByText(/Set aside or mended: 1 place/).click();
  assert.match(await named(page, 'set-aside').innerText(), /power failure/);
  assert.match(await named(page, 'figures').innerText(), /14\.0 min/, 'fourteen minutes of running as made');
  assert.match(await named(page, 'phases').innerText(), /Running[^]*Off/i);
  assert.equal(await named(page, 'plot').locator('canvas').count(), 4, 'three lanes and the phases');

  // Keys, wheel and a tapped phase move the plot; a tap on it tells the moment.
  const all = await view(page);
  await named(page, 'plot-nearer').click();
  await page.waitForFunction(
    (to) => Number((document.querySelector('[data-name="plot"]') as HTMLElement).dataset.to) < to,
    all.to,
  );
  await named(page, 'plot-whole').click();
  await named(page, 'phases').locator('.finding').nth(2).click();
  await page.waitForFunction(() => {
    const { from, to } = (document.querySelector('[data-name="plot"]') as HTMLElement).dataset;
    return Number(to) - Number(from) < 3600;
  });
  const box = (await named(page, 'plot').boundingBox())!;
  await page.mouse.click(box.x + box.width * 0.55, box.y + 80);
  await page.waitForFunction(() =>
    /Mar|Mär/.test(document.querySelector('[data-name="readout"]')!.textContent ?? ''),
  );
  assert.match(await named(page, 'readout').innerText(), /running/i);
  await page.mouse.move(box.x + 200, box.y + 80);
  const before = await view(page);
  await page.mouse.wheel(0, -200);
  await page.waitForFunction((length) => {
    const { from, to } = (document.querySelector('[data-name="plot"]') as HTMLElement).dataset;
    return Number(to) - Number(from) < length;
  }, before.to - before.from);

  await named(page, 'take-into').click();
  await named(page, 'take-out').waitFor();
  await page.reload();
  await stage(page, 'read');
  const taken = named(page, 'taken:suction_pressure');
  await taken.waitFor();
  assert.match(await taken.innerText(), /Mar|Mär/, 'at the time it was logged');
  assert.match(await taken.innerText(), /nacht\.csv/, 'with the file it came from');
  assert.match(await named(page, 'taken-trace').innerText(), /nacht\.csv/);
  await stage(page, 'look');
  assert.ok(
    await named(page, 'observe:compressor').getByRole('radio', { name: 'running', exact: true }).isChecked(),
  );

  // Out again in one tap; undo gives each back.
  await stage(page, 'read');
  await named(page, 'take-out').click();
  await taken.waitFor({ state: 'detached' });
  await named(page, 'taken-trace').waitFor({ state: 'detached' });
  for (let i = 0; i < 8 && (await taken.count()) === 0; ++i) {
    await named(page, 'undo').click();
    await page.waitForTimeout(50);
  }
  await taken.waitFor();
  assert.deepEqual(errors, []);
});

test('a series: each tap stamps its moment, a time is corrected, all there after a reload', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await newCall(page, 'Kiosk, ice-cream chest');
  await stage(page, 'read/series');
  await named(page, 'series-what').selectOption('compressor_current');
  const stamp = async (digits: string) => {
    for (const key of digits) await named(page, `key-${key}`).click();
    await page.locator('[data-name="save"]:enabled').click();
  };
  assert.match(await named(page, 'save').innerText(), /\d\d:\d\d:\d\d/, 'the moment stands on the key');
  const stamped = named(page, 'stamped');
  await stamp('3.1');
  await stamped.nth(0).waitFor();
  await named(page, 'series-same').click();
  await stamped.nth(1).waitFor();
  await named(page, 'series-less').click();
  assert.match(await named(page, 'value').inputValue(), /^3 A/, 'a tenth of an ampere less');
  await page.locator('[data-name="save"]:enabled').click();
  await stamped.nth(2).waitFor();
  await named(page, 'plot').waitFor();

  // The first was really taken ten minutes ago.
  const ago = new Date(Date.now() - 600_000);
  const clock = [ago.getHours(), ago.getMinutes(), ago.getSeconds()]
    .map((n) => String(n).padStart(2, '0'))
    .join(':');
  await stamped.last().click();
  await named(page, 'series-time').fill('99:00');
  assert.ok(await named(page, 'series-save').isDisabled(), 'no such time');
  await named(page, 'series-time').fill(clock);
  await named(page, 'series-save').click();
  await named(page, 'series-time').waitFor({ state: 'detached' });
  await page.reload();
  await stamped.nth(2).waitFor();
  const texts = await stamped.allInnerTexts();
  assert.match(texts[2]!, new RegExp(clock));
  assert.match(texts[2]!, /3\.1\sA/);
  assert.match(texts[0]!, /\b3\sA/);
  await named(page, 'series-says').click();
  await answer(page);
  assert.match(await named(page, 'used').innerText(), /3 of 3/);
  await stage(page, 'read');
  assert.match(await named(page, 'taken:compressor_current').innerText(), /3 times/);
  assert.deepEqual(errors, []);
});

test('what is no trace is told, a reading is stopped, and neither loses anything', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await page.goto(new URL('#/handy', page.url()).href);
  await named(page, 'tool-trace').click();
  await openFiles(page, file('nacht.csv', oddLog(400)));
  await named(page, 'what:4').selectOption('ambient_temp');
  await openFiles(page, file('photo.jpg', '\u0000\u0001 no rows at all'));
  const wrong = named(page, 'file:photo.jpg');
  await wrong.locator('.notice.bad').waitFor();
  assert.match(await wrong.innerText(), /photo\.jpg can’t be read as a trace/);
  assert.equal(await named(page, 'what:4').inputValue(), 'ambient_temp', 'the correction stands');
  await wrong.locator('[data-name="remove-file"]').click();
  await named(page, 'read-it').click();
  await answer(page);
  const said = await named(page, 'used').innerText();

  // Large enough that somebody may think better of it; its rows say the same again and again.
  const [head, ...rows] = longLog(40_000).split('\n');
  const large = [head, ...Array.from({ length: 24 }, () => rows.join('\n'))].join('\n');
  const folder = mkdtempSync(join(tmpdir(), 'coldwright-trace-'));
  writeFileSync(join(folder, 'month.csv'), large);
  await named(page, 'files').setInputFiles(join(folder, 'month.csv'));
  await named(page, 'read-it').click();
  await named(page, 'cancel-read').click();
  await named(page, 'cancel-read').waitFor({ state: 'detached' });
  assert.equal(await named(page, 'used').innerText(), said, 'what was read before still stands');
  await page.getByText('2 files, and how they are read').click();
  await named(page, 'file:month.csv').locator('[data-name="remove-file"]').click();
  rmSync(folder, { recursive: true });
  await named(page, 'read-it').waitFor({ state: 'detached' });

  // A column that was corrected since is read again first, by its own key; as it was, it can be taken.
  await named(page, 'what:4').selectOption('box_temp');
  assert.ok(await named(page, 'take-into').isDisabled(), 'what stands here is of the layout before');
  await named(page, 'read-it').waitFor();
  await named(page, 'what:4').selectOption('ambient_temp');

  // Without a call that is open, one is chosen or begun.
  await named(page, 'take-into').click();
  await named(page, 'into-new').click();
  await page.waitForURL(/\/read$/);
  await named(page, 'taken-trace').waitFor();
  assert.deepEqual(errors, []);
});
