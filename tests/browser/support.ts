// What every browser test needs: the real server on a free port serving the built app, real Chromium, and the
// screens by name. Run by `node --test`; the program and the app's folder come in the environment.
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, mkdirSync, rmSync, existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { afterEach } from 'node:test';
import { join, resolve } from 'node:path';

const top = resolve(import.meta.dirname, '../..');
const fromWeb = createRequire(join(top, 'web/package.json'));
export const { chromium } = fromWeb('playwright-core') as typeof import('playwright-core');
export type { BrowserContext, Page } from 'playwright-core';
import type { BrowserContext, Page } from 'playwright-core';

const serverProgram =
  process.env['COLDWRIGHT_SERVER'] ?? join(top, 'build/release/apps/server/coldwright-server');
export const appFolder = process.env['COLDWRIGHT_APP'] ?? join(top, 'web/dist');
export const screensFolder = process.env['COLDWRIGHT_SCREENS'] ?? join(top, 'build/screens');
mkdirSync(screensFolder, { recursive: true });

for (const needed of [serverProgram, join(appFolder, 'index.html')])
  if (!existsSync(needed)) throw new Error(`${needed} is needed: build it first (./test does)`);

// A test that fails leaves nothing behind that would keep the next one, or node itself, waiting.
const open = new Set<{ close?(): Promise<void>; stop?(): Promise<void> }>();
afterEach(async () => {
  for (const one of [...open].reverse()) await (one.close?.() ?? one.stop?.());
  open.clear();
});

export interface Server {
  address: string;
  port: number;
  stop(): Promise<void>;
}

/** Starts the real server; `port` 0 takes a free one. */
export async function serve(folder = appFolder, port = 0): Promise<Server> {
  const child: ChildProcess = spawn(serverProgram, ['--root', folder, '--port', String(port)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const address = await new Promise<string>((done, failed) => {
    let said = '';
    child.stdout!.on('data', (bytes: Buffer) => {
      said += bytes.toString();
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(said);
      if (found) done(found[0]);
    });
    child.once('exit', (code) => failed(new Error(`the server ended with ${code}: ${said}`)));
  });
  const server: Server = {
    address,
    port: Number(new URL(address).port),
    stop: () =>
      new Promise((stopped) => {
        if (child.exitCode !== null || child.signalCode !== null) return stopped();
        child.once('exit', () => stopped());
        child.kill('SIGTERM');
      }),
  };
  open.add(server);
  return server;
}

export interface Browser {
  context: BrowserContext;
  page: Page;
  /** Everything the pages asked for and every error they wrote. */
  requests: string[];
  errors: string[];
  folder: string;
  close(): Promise<void>;
}

interface Look {
  width?: number;
  height?: number;
  scheme?: 'light' | 'dark';
  locale?: string;
  /** A profile folder to come back to; a new one when left out. */
  folder?: string;
}

/** A phone-sized Chromium with a profile of its own on disk, as on a phone. */
export async function browse(server: Server, look: Look = {}): Promise<Browser> {
  const folder = look.folder ?? mkdtempSync(join(tmpdir(), 'coldwright-browser-'));
  const context = await chromium.launchPersistentContext(folder, {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu'],
    viewport: { width: look.width ?? 390, height: look.height ?? 844 },
    colorScheme: look.scheme ?? 'light',
    locale: look.locale ?? 'en-US',
    hasTouch: true,
    acceptDownloads: true,
  });
  const page = context.pages()[0] ?? (await context.newPage());
  const browser: Browser = {
    context,
    page,
    requests: [],
    errors: [],
    folder,
    close: async () => {
      await context.close().catch(() => {}); // killed already
      if (!look.folder) rmSync(folder, { recursive: true, force: true });
    },
  };
  open.add(browser);
  context.on('request', (r) => browser.requests.push(r.url()));
  context.on('weberror', (e) => browser.errors.push(String(e.error())));
  context.on('console', (m) => {
    if (m.type() === 'error' && !/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/.test(m.text()))
      browser.errors.push(m.text());
  });
  await page.goto(server.address);
  await page.locator('.frame').waitFor();
  return browser;
}

/** Waits until the service worker keeps the app, so that no network is needed any more. */
export async function keptOffline(page: Page): Promise<void> {
  for (let tries = 0; tries < 100; ++tries) {
    const state = await page.evaluate(
      async () => (await navigator.serviceWorker.getRegistration())?.active?.state,
    );
    if (state === 'activated') return;
    await page.waitForTimeout(100);
  }
  throw new Error('the service worker did not come up within ten seconds');
}

/** Waits until for `quiet` ms the core has owed the page no answer and nothing was faded: what is set back or half
    drawn in meanwhile is no screen to judge. What asks with a delay waits 250 ms at most. */
export async function atRest(page: Page, quiet = 300): Promise<void> {
  const moving = () =>
    page.evaluate(() => {
      const owed = document.documentElement.dataset['owed'] ?? '0';
      if (owed !== '0') return `${owed} answers owed`;
      const waiting = [...document.querySelectorAll('[aria-busy="true"], [data-busy="true"]')].find((e) =>
        e.checkVisibility(),
      );
      if (waiting) return waiting.outerHTML.slice(0, 160);
      const fading = document.getAnimations().find((a) => a.playState === 'running');
      const faded = (fading?.effect as KeyframeEffect | null | undefined)?.target;
      return fading ? `an animation of ${faded?.outerHTML.slice(0, 160)}` : null;
    });
  const began = Date.now();
  for (let since = began; Date.now() - since < quiet;) {
    const why = await moving();
    if (why) since = Date.now();
    if (Date.now() - began > 60_000) throw new Error(`the screen doesn't come to rest: ${why}`);
    await page.waitForTimeout(40);
  }
}

export const named = (page: Page, name: string) => page.locator(`[data-name="${name}"]`);

/** Opens the demo call whose name has `part`, and waits for its final answer. */
export async function openDemo(page: Page, part: string): Promise<void> {
  await page.goto(new URL('#/', page.url()).href);
  await page.getByRole('button', { name: new RegExp(part, 'i') }).click();
  await settled(page);
}

/** Waits until the answer on the screen rests on the whole population. */
export async function settled(page: Page): Promise<void> {
  await page.locator('[data-name="answer"][data-final="true"]').waitFor({ timeout: 60_000 });
}

export async function stage(page: Page, name: string): Promise<void> {
  const hash = await page.evaluate(() => location.hash);
  await page.evaluate((to) => (location.hash = to), hash.replace(/^(#\/call\/[^/]+)\/.*$/, `$1/${name}`));
}
