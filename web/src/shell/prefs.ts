// What the person prefers, kept on this device: language, units, theme.
import { effect, signal, type Signal } from '@preact/signals';

export type Theme = 'system' | 'light' | 'dark' | 'sunlight';
export type Units = 'us' | 'metric';

function kept<T extends string>(key: string, allowed: readonly T[], initial: T): Signal<T> {
  const name = `coldwright.${key}`;
  let start = initial;
  try {
    const found = localStorage.getItem(name) as T | null;
    if (found && allowed.includes(found)) start = found;
  } catch {
    // Storage may be refused; the preference then lasts as long as the page.
  }
  const value = signal<T>(start);
  effect(() => {
    try {
      localStorage.setItem(name, value.value);
    } catch {
      // as above
    }
  });
  return value;
}

const spoken = navigator.language.toLowerCase();
const guess = spoken.startsWith('es') ? 'es' : spoken.startsWith('fr') ? 'fr' : 'en';

export const prefs = {
  language: kept<'en' | 'es' | 'fr'>('language', ['en', 'es', 'fr'], guess),
  units: kept<Units>('units', ['us', 'metric'], spoken === 'en-us' || spoken === 'en' ? 'us' : 'metric'),
  theme: kept<Theme>('theme', ['system', 'light', 'dark', 'sunlight'], 'system'),
};

/** Marks the page with the theme in use, the phone's own where that is wanted; CSS does the rest. */
const phone = matchMedia('(prefers-color-scheme: dark)');
const phoneIsDark = signal(phone.matches);
phone.addEventListener('change', () => (phoneIsDark.value = phone.matches));
effect(() => {
  const wanted = prefs.theme.value;
  document.documentElement.dataset.theme =
    wanted === 'system' ? (phoneIsDark.value ? 'dark' : 'light') : wanted;
});
