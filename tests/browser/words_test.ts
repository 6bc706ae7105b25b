// All three languages: every screen worded, none with a text of another.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { browse, serve } from './support.ts';
import { screens } from './screens.ts';

/** English words that no Spanish or French sentence has; the demo calls' own notes and names are English. */
const english = /\b(the|with|what|reading|should|suction line|charge missing|very likely|from)\b/i;

for (const language of ['en', 'es', 'fr'] as const) {
  test(`every screen in ${language}`, async () => {
    const server = await serve();
    const browser = await browse(server, { locale: { en: 'en-US', es: 'es-MX', fr: 'fr-FR' }[language] });
    const { page } = browser;
    assert.equal(await page.evaluate(() => document.documentElement.lang), language);
    const findings: string[] = [];
    for (const screen of screens) {
      await screen.open(page);
      await page.waitForTimeout(250);
      const text = await page.evaluate(() => {
        const copy = document.querySelector('#app')!.cloneNode(true) as HTMLElement;
        for (const own of copy.querySelectorAll('[data-own-words]')) own.remove();
        return copy.innerText ?? copy.textContent ?? '';
      });
      if (/\[\w+\.\w+\]|no wording/.test(text)) findings.push(`${screen.name}: ${text.match(/\[[^\]]*\]/)?.[0]}`);
      if (language !== 'en')
        for (const line of text.split('\n'))
          if (english.test(line)) findings.push(`${screen.name}: ${line}`);
    }
    assert.deepEqual(findings, []);
    await browser.close();
    await server.stop();
  });
}
