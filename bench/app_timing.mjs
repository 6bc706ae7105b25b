// Measures the app as a phone meets it: what the first visit fetches, first paint and ready to type with the
// processor slowed four times, and the time to the first and the final answer of a demo call. Not a test.
//   node bench/app_timing.mjs [SERVER] [APP FOLDER]
import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';

const top = resolve(import.meta.dirname, '..');
const { chromium } = createRequire(join(top, 'web/package.json'))('playwright-core');
const [program = join(top, 'build/release/apps/server/coldwright-server'), app = join(top, 'web/dist')] =
  process.argv.slice(2);

const server = spawn(program, ['--root', app, '--port', '0'], { stdio: ['ignore', 'pipe', 'inherit'] });
const address = await new Promise((done) =>
  server.stdout.on('data', (bytes) => {
    const found = /http:\/\/[\d.]+:\d+/.exec(String(bytes));
    if (found) done(found[0]);
  }),
);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];

async function visit(rate) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, serviceWorkers: 'block' });
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send('Network.enable');
  let fetched = 0;
  devtools.on('Network.loadingFinished', (e) => (fetched += e.encodedDataLength));
  await devtools.send('Emulation.setCPUThrottlingRate', { rate });
  await page.goto(`${address}/#/handy/saturation`);
  await page.locator('[data-name="at"]').waitFor();
  const ready = await page.evaluate(() => performance.now());
  const paint = await page.evaluate(
    () => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN,
  );
  await page.waitForTimeout(1500);
  await context.close();
  return { paint, ready, fetched };
}

async function answers() {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await page.goto(address);
  await page.locator('[data-name="demo"]').first().waitFor();
  await page.waitForTimeout(2500); // the core compiled, as it is by the time a hand gets there
  const times = await page.evaluate(async () => {
    const seen = (selector) =>
      new Promise((done) => {
        const look = () => (document.querySelector(selector) ? done(performance.now()) : requestAnimationFrame(look));
        look();
      });
    const start = performance.now();
    document.querySelector('[data-name="demo"]').click();
    const first = await seen('[data-name="answer"] [data-name="lead"], [data-name="answer"] .lead, [data-name="lead"]');
    const last = await seen('[data-name="answer"][data-final="true"]');
    return { first: first - start, last: last - start };
  });
  await context.close();
  return times;
}

for (const rate of [1, 4]) {
  const runs = [];
  for (let i = 0; i < 5; ++i) runs.push(await visit(rate));
  console.log(
    `slowed ${rate} times: first paint ${median(runs.map((r) => r.paint)).toFixed(0)} ms, ready to type ` +
      `${median(runs.map((r) => r.ready)).toFixed(0)} ms (medians of ${runs.length}); fetched ${runs[0].fetched} bytes`,
  );
}
const runs = [];
for (let i = 0; i < 5; ++i) runs.push(await answers());
console.log(
  `demo call, a tap to the first answer ${runs.map((r) => r.first.toFixed(0)).join(', ')} ms, ` +
    `to the final one ${runs.map((r) => r.last.toFixed(0)).join(', ')} ms`,
);
await browser.close();
server.kill();
