// After one visit everything works with no network: reload, restart, the server gone.
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { browse, keptOffline, openDemo, serve, settled, stage } from './support.ts';

test('a call answers after a reload and after a restart, with the server gone', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'coldwright-profile-'));
  const server = await serve();
  try {
    let browser = await browse(server, { folder });
    await keptOffline(browser.page);
    await server.stop();
    await browser.context.setOffline(true);
    await browser.page.reload();
    await openDemo(browser.page, 'dough cooler');
    assert.match(await browser.page.locator('main').innerText(), /runs without pumping/);
    await browser.page.reload();
    await settled(browser.page);
    assert.deepEqual(browser.errors, []);
    const address = browser.page.url();
    await browser.close();

    browser = await browse({ ...server, address }, { folder });
    await settled(browser.page);
    await stage(browser.page, 'read');
    await browser.page.getByText('105.2').first().waitFor();
    assert.deepEqual(browser.errors, []);
    await browser.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('nothing is asked of any other machine', async () => {
  const server = await serve();
  const browser = await browse(server);
  await openDemo(browser.page, 'fish hall');
  for (const place of ['#/handy', '#/settings', '#/']) {
    await browser.page.goto(server.address + '/' + place);
    await browser.page.locator('.frame').waitFor();
  }
  const foreign = browser.requests.filter((r) => !r.startsWith(server.address) && !/^(blob|data):/.test(r));
  assert.deepEqual(foreign, []);
  assert.deepEqual(browser.errors, []);
  await browser.close();
  await server.stop();
});
