// All three languages: every screen worded, none with a text of another.
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { atRest, browse, serve, type Page } from './support.ts';
import { screens } from './screens.ts';

const demoFolder = join(import.meta.dirname, '../../data/demo');
/** The demo calls' names and notes are English in every language: they are somebody's own words. */
const own = new Set<string>();
for (const file of readdirSync(demoFolder))
  for (const text of readFileSync(join(demoFolder, file), 'utf8').matchAll(/"(?:call|text)": "([^"]*)"/g))
    own.add(text[1]!);

/** English words that no Spanish or French sentence has. */
const english = /\b(the|with|what|reading|should|line|charge missing|likely|from|unless|safe)\b/i;

/** Texts and spoken labels of the page, each as it stands, but for citations of published works. */
const texts = (page: Page) =>
  page.evaluate(() => {
    const found: string[] = [];
    const walk = document.createTreeWalker(document.querySelector('#app')!, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const text = walk.currentNode.textContent?.trim();
      if (text && !walk.currentNode.parentElement?.closest('[data-own-words], cite, .citation'))
        found.push(text);
    }
    for (const e of document.querySelectorAll('[aria-label], [alt], [title], [placeholder]'))
      for (const name of ['aria-label', 'alt', 'title', 'placeholder'])
        if (e.getAttribute(name)) found.push(e.getAttribute(name)!);
    return found;
  });

for (const language of ['en', 'es', 'fr'] as const) {
  test(`every screen in ${language}`, async () => {
    const server = await serve();
    const browser = await browse(server, {
      locale: { en: 'en-US', es: 'es-MX', fr: 'fr-FR' }[language],
    });
    const { page } = browser;
    assert.equal(await page.evaluate(() => document.documentElement.lang), language);
    const findings: string[] = [];
    for (const screen of screens) {
      await screen.open(page);
      await atRest(page);
      for (const text of await texts(page)) {
        if (/^\[\w+\.\w+\]|no wording/.test(text)) findings.push(`${screen.name}: ${text}`);
        const whose = [...own].some((words) => text.includes(words));
        if (language !== 'en' && !whose && english.test(text)) findings.push(`${screen.name}: ${text}`);
      }
    }
    assert.deepEqual(findings, []);
    await browser.close();
    await server.stop();
  });
}
