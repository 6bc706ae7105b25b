// The tools at hand answer while one types, without a network: each against a value published or worked by hand.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { browse, keptOffline, named, serve, type Page } from './support.ts';

async function tool(page: Page, id: string, fields: Record<string, string>, wanted: RegExp): Promise<void> {
  await page.goto(new URL(`#/handy/${id}`, page.url()).href);
  for (const [field, text] of Object.entries(fields)) {
    await named(page, field).fill(text);
    await named(page, field).blur();
  }
  await page
    .waitForFunction(
      (source) => new RegExp(source).test(document.querySelector('main')!.innerText),
      wanted.source,
      {
        timeout: 10_000,
      },
    )
    .catch(async () => {
      assert.match(await page.locator('main').innerText(), wanted, id);
    });
}

test('every tool answers what is typed, with the server gone', async () => {
  const server = await serve();
  const { page, errors, context } = await browse(server);
  await keptOffline(page);
  await server.stop();
  await context.setOffline(true);
  await page.reload();
  // propane at 0 C: 474.46 kPa [lemmon2009], 54.1 psig at sea level
  await tool(page, 'saturation', { at: '32 F' }, /54\.1/);
  // ... and so 40.0 F on the line is 8.0 F of superheat
  await tool(page, 'superheat', { suction_pressure: '54.12 psig', suction_temperature: '40 F' }, /8\.0 °F/);
  // exact by definition of the units
  await tool(page, 'quantity', { text: '212 F' }, /100(\.0+)? °C/);
  // 150 g in 25 % of 0.038 kg/m3 (25 C): 15.8 m3, by hand
  await tool(page, 'room', { charge: '150 g', t: '25 C' }, /558|15\.8/);
  // 5 ft of 4.8 mm hose hold 27.58 mL: 13.8 g of liquid propane at 20 C
  await tool(page, 'hose', { t: '20 C' }, /0\.486 oz|13\.8 g/);
  // ice at 500 micron: -24.5 C
  await tool(page, 'vacuum', { pressure: '500 micron' }, /-12\.1/);
  await tool(page, 'standing', { t: '32 F' }, /5[0-9]\.[0-9] psig/);
  await tool(page, 'targets', { ambient: '82 F', box: '40 F' }, /psig/);
  assert.deepEqual(errors, []);
});

test('what cannot be is said at its field, and nothing typed is lost by leaving', async () => {
  const server = await serve();
  const { page } = await browse(server);
  await tool(page, 'saturation', { at: '900 F' }, /900/);
  await page.locator('.problem').first().waitFor();
  await page.goto(new URL('#/', page.url()).href);
  await page.goto(new URL('#/handy/saturation', page.url()).href);
  assert.match(await named(page, 'at').inputValue(), /^900/);
});
