// Builds the app into web/dist: hashed assets, a service worker that keeps all of them, a manifest.
import preact from '@preact/preset-vite';
import { defineConfig } from 'vitest/config';
import { VitePWA } from 'vite-plugin-pwa';

// Tests of clocks can only fail where the wall's clock isn't UTC: summer time and an offset of half an hour. Only vitest
// is told; a build's zone is the machine's.
if (process.env['VITEST']) process.env['TZ'] = 'America/St_Johns';

export default defineConfig({
  plugins: [
    preact({ devToolsEnabled: false, prefreshEnabled: false }),
    VitePWA({
      // A new version waits until the person takes it: it never interrupts a call (src/shell/update.ts).
      registerType: 'prompt',
      injectRegister: null,
      workbox: {
        globPatterns: ['**/*.{html,js,css,svg,png,ttf,wasm,webmanifest}'],
        maximumFileSizeToCacheInBytes: 12 * 1024 * 1024,
        navigateFallback: '/index.html',
        clientsClaim: true, // the first visit's page too is told when another version takes over
        cleanupOutdatedCaches: true,
      },
      manifest: {
        name: 'Coldwright',
        short_name: 'Coldwright',
        description: 'Diagnosis and repair numbers for sealed capillary-tube refrigeration',
        display: 'standalone',
        start_url: '/',
        background_color: '#f4f1ea',
        theme_color: '#0b5563',
        icons: [
          { src: '/icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: '/icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any maskable' },
        ],
      },
    }),
  ],
  worker: { format: 'es' },
  build: {
    target: 'es2022',
    // Inlined assets would need data: sources in the content-security policy.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  test: { environment: 'happy-dom' },
});
