// For a cold hand in bad light: every screen in every theme passes axe, has big targets, fits 320 px, and is
// kept as a picture.
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { test } from 'node:test';
import { atRest, browse, screensFolder, serve, type Page } from './support.ts';
import { screens } from './screens.ts';

const fromWeb = createRequire(join(resolve(import.meta.dirname, '../..'), 'web/package.json'));
const axeSource = readFileSync(fromWeb.resolve('axe-core/axe.min.js'), 'utf8');

interface Finding {
  id: string;
  impact: string;
  nodes: { html: string; failureSummary: string }[];
}

async function axe(page: Page): Promise<string[]> {
  await page.evaluate(axeSource); // through the debugger: the page's own policy allows no foreign script
  const found = (await page.evaluate(
    async () => (await (window as unknown as { axe: { run(): Promise<unknown> } }).axe.run()) as never,
  )) as { violations: Finding[] };
  return found.violations
    .filter((v) => v.impact === 'serious' || v.impact === 'critical')
    .map((v) => `${v.id}: ${v.nodes.map((n) => `${n.html.slice(0, 160)} ${n.failureSummary}`).join(' | ')}`);
}

/** Targets smaller than 48 px in either direction. A link within a line of text is not a target of its own. */
const smallTargets = (page: Page) =>
  page.evaluate(() => {
    const small: string[] = [];
    for (const e of document.querySelectorAll<HTMLElement>(
      'button, a[href], input, select, textarea, summary, [role="button"], [tabindex="0"]',
    )) {
      const target = e.matches('input[type="radio"], input[type="checkbox"]') ? (e.closest('label') ?? e) : e;
      const box = target.getBoundingClientRect();
      if (box.width === 0 || e.closest('.spoken, [inert]') || !e.checkVisibility()) continue;
      if (e.matches('p a, li p a, dd a')) continue;
      if (box.width < 47.5 || box.height < 47.5)
        small.push(`${target.outerHTML.slice(0, 140)} ${Math.round(box.width)}x${Math.round(box.height)}`);
    }
    return small;
  });

const sideways = (page: Page) =>
  page.evaluate(() => {
    const main = document.querySelector('main')!;
    return Math.max(main.scrollWidth - main.clientWidth, document.documentElement.scrollWidth - innerWidth);
  });

for (const theme of ['light', 'dark', 'sunlight'] as const) {
  test(`every screen in ${theme}: axe, targets, pictures`, async () => {
    const server = await serve();
    const browser = await browse(server);
    const { page } = browser;
    await page.evaluate((t) => localStorage.setItem('coldwright.theme', t), theme);
    await page.reload();
    await page.locator('.frame').waitFor();
    const findings: string[] = [];
    for (const screen of screens) {
      await screen.open(page);
      await atRest(page);
      for (const [size, width, height] of [
        ['phone', 390, 844],
        ['desktop', 1100, 800],
      ] as const) {
        await page.setViewportSize({ width, height });
        await atRest(page, 100);
        if (theme !== 'sunlight')
          await page.screenshot({
            path: join(screensFolder, `${screen.name}-${size}-${theme}.png`),
          });
      }
      await page.setViewportSize({ width: 320, height: 640 });
      await atRest(page, 100); // pictures are drawn anew for every width
      const beyond = await sideways(page);
      if (beyond > 0) findings.push(`${screen.name}: ${beyond} px wider than 320`);
      await page.setViewportSize({ width: 390, height: 844 });
      await atRest(page);
      for (const f of await smallTargets(page)) findings.push(`${screen.name}: small target ${f}`);
      for (const f of await axe(page)) findings.push(`${screen.name}: ${f}`);
    }
    assert.deepEqual(findings, []);
    assert.deepEqual(browser.errors, []);
    await browser.close();
    await server.stop();
  });
}
