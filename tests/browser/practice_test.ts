// A whole practice call in the app, with no network: level, looks and readings with their minutes, a reload in the
// middle, the decision, the debrief with both ways; and nothing of it among the real calls.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { browse, keptOffline, named, serve, type Page } from './support.ts';
import { practise } from './screens.ts';

const steps = (page: Page, n: number) => page.locator(`[data-name="last"][data-steps="${n}"]`).waitFor();
const kept = (page: Page) =>
  page.evaluate(() => {
    const text = (
      JSON.parse(localStorage.getItem('coldwright.draft.practice') ?? '{}') as {
        text?: string;
      }
    ).text;
    return text ? (JSON.parse(text) as { actions: string[]; decision: string | null }) : null;
  });

test('a whole practice call offline, over a reload', async () => {
  const server = await serve();
  const { page, context, errors } = await browse(server);
  await keptOffline(page);
  await server.stop();
  await context.setOffline(true);
  await page.reload();
  await named(page, 'practice').click();
  await named(page, 'level:first').click();
  await named(page, 'last').waitFor();
  assert.equal(await named(page, 'minutes').innerText(), '0 min');

  // The minutes stand on what is tapped before it is tapped, and the clock moves by them.
  const compressor = named(page, 'do:compressor');
  assert.match(await compressor.innerText(), /1 min/);
  await compressor.click();
  await steps(page, 1);
  assert.equal(await named(page, 'minutes').innerText(), '1 min');
  await named(page, 'do:suction_line_temp').click();
  await steps(page, 2);
  assert.equal(await named(page, 'minutes').innerText(), '3 min');
  const shown = await named(page, 'last').innerText();
  assert.match(shown, /\d/);

  // Opening the circuit is asked about first; not now changes nothing.
  await named(page, 'do:suction_pressure').click();
  await page.getByRole('button', { name: 'Not now' }).click();
  assert.equal(await named(page, 'minutes').innerText(), '3 min');
  assert.equal(await named(page, 'circuit').innerText(), 'Circuit closed');
  await named(page, 'do:suction_pressure').click();
  await named(page, 'do-sure').click();
  await steps(page, 3);
  assert.equal(await named(page, 'minutes').innerText(), '18 min');
  assert.equal(await named(page, 'circuit').innerText(), 'Circuit opened');

  const before = await named(page, 'last').innerText();
  await page.reload();
  await steps(page, 3);
  assert.equal(
    await named(page, 'last').innerText(),
    before,
    'the same machine shows the same after a reload',
  );
  assert.deepEqual((await kept(page))!.actions, ['compressor', 'suction_line_temp', 'suction_pressure']);

  await named(page, 'decide').click();
  assert.ok(await named(page, 'confirm').isDisabled(), 'nothing is decided without a cause');
  await named(page, 'search-cause').fill('low cha');
  assert.equal(await page.locator('[data-name^="cause:"]').count(), 1);
  await named(page, 'cause:low_charge').check({ force: true });
  await named(page, 'confirm').click();
  await named(page, 'verdict').waitFor({ timeout: 60_000 });
  const grade = await named(page, 'verdict').getAttribute('data-grade');
  assert.ok(['right', 'nearly', 'wrong'].includes(grade!));
  assert.equal(await page.locator('[data-name="yours"] ol.steps > li').count(), 3);
  assert.ok((await page.locator('[data-name="best"] ol.steps > li').count()) > 0);
  assert.match(await named(page, 'remember').innerText(), /\d|motor/);
  assert.equal(await named(page, 'cost').count(), grade === 'right' ? 0 : 1);
  assert.ok((await page.locator('.timeline svg .dot').count()) >= 4, 'both ways are drawn');

  // The decision outlives a reload as well; another machine begins anew.
  await page.reload();
  await named(page, 'verdict').waitFor({ timeout: 60_000 });
  await named(page, 'another').click();
  await steps(page, 0);
  assert.equal(await named(page, 'minutes').innerText(), '0 min');
  assert.deepEqual(errors, []);
});

test('practice stands apart from the calls, and is thrown away only once confirmed', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await practise(page, { actions: ['compressor'] });
  await page.goto(server.address + '/#/');
  await named(page, 'practice').waitFor();
  assert.equal(await page.locator('.call-row').count(), 0, 'no call is made of it');
  assert.match(await named(page, 'practice').innerText(), /Go on/);
  await named(page, 'practice').click();
  await steps(page, 1);
  await named(page, 'throw-away').click();
  await page.getByRole('button', { name: 'Keep it' }).click();
  await steps(page, 1);
  await named(page, 'throw-away').click();
  await named(page, 'throw-away-sure').click();
  await named(page, 'level:hard').waitFor();
  assert.equal(await kept(page), null);
  assert.deepEqual(errors, []);
});

test('what is kept but no machine any more is told, with a way out', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  await practise(page, null);
  await page.evaluate(() =>
    localStorage.setItem(
      'coldwright.draft.practice',
      JSON.stringify({
        text: JSON.stringify({
          of: { recorded: 'long-gone' },
          actions: [],
          decision: null,
        }),
        at: Date.now() + 1000,
      }),
    ),
  );
  await page.reload();
  await named(page, 'throw-away-stuck').click();
  await named(page, 'level:first').waitFor();
  assert.deepEqual(errors, []);
});

test('the same machine in Spanish and French, in its units', async () => {
  const server = await serve();
  const { page, errors } = await browse(server);
  const said = new Set<string>();
  for (const language of ['en', 'es', 'fr']) {
    await page.evaluate((l) => {
      localStorage.setItem('coldwright.language', l);
      localStorage.setItem('coldwright.units', 'metric');
    }, language);
    await practise(page, { actions: ['compressor'], decision: 'overcharge' });
    await named(page, 'verdict').waitFor({ timeout: 60_000 });
    const text = await page.locator('main').innerText();
    assert.doesNotMatch(text, /\[[a-z]+[._]|\{[a-z]+\}/);
    said.add(text);
  }
  assert.equal(said.size, 3);
  assert.deepEqual(errors, []);
});
