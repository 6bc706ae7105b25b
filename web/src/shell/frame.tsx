// The frame of every screen: header with the way back, the page, and the bar at the thumb.
import type { ComponentChildren } from 'preact';
import { Icon, type IconName } from '../parts/icon';
import { Button } from '../parts/parts';
import { say } from '../words/words';
import { prefs } from './prefs';
import { href, route, type Route } from './route';

/** US or metric, switched anywhere. */
function UnitsSwitch() {
  const us = prefs.units.value === 'us';
  return (
    <button
      type="button"
      class="button bare"
      data-name="units"
      aria-label={say(us ? 'shell.units_now_us' : 'shell.units_now_metric')}
      onClick={() => (prefs.units.value = us ? 'metric' : 'us')}
    >
      {us ? '°F' : '°C'}
    </button>
  );
}

export interface BarItem {
  icon: IconName;
  text: string;
  to: Route;
  here: boolean;
  /** A small mark: how many, or a tick. */
  mark?: string;
  /** The mark in words, said aloud. */
  markSaid?: string;
}

export function BottomBar({ items, label }: { items: readonly BarItem[]; label: string }) {
  return (
    <nav class="bottom" aria-label={label}>
      {items.map((i) => (
        <a key={i.text} href={href(i.to)} aria-current={i.here ? 'page' : undefined}>
          <Icon name={i.icon} />
          <span>{i.text}</span>
          {i.mark && (
            <span class="mark" aria-hidden={i.markSaid ? 'true' : undefined}>
              {i.mark}
            </span>
          )}
          {i.markSaid && <span class="spoken">{i.markSaid}</span>}
        </a>
      ))}
    </nav>
  );
}

export function MainBar() {
  const room = route.value.room;
  return (
    <BottomBar
      label={say('shell.places')}
      items={[
        { icon: 'list', text: say('shell.calls'), to: { room: 'calls' }, here: room === 'calls' },
        {
          icon: 'tools',
          text: say('shell.handy'),
          to: { room: 'handy', tool: null },
          here: room === 'handy',
        },
        { icon: 'gear', text: say('shell.settings'), to: { room: 'settings' }, here: room === 'settings' },
      ]}
    />
  );
}

export function Frame({
  title,
  back,
  actions,
  bar,
  children,
}: {
  title: string;
  back?: Route;
  /** Buttons at the right of the header, before the switch of units. */
  actions?: ComponentChildren;
  /** The bottom bar; the three main places when left out. */
  bar?: ComponentChildren;
  children: ComponentChildren;
}) {
  return (
    <div class="frame">
      <header>
        {back && <Button icon="back" kind="bare" label={say('shell.back')} href={href(back)} name="back" />}
        <h1>{title}</h1>
        {actions}
        <UnitsSwitch />
      </header>
      <main id="main" tabIndex={-1}>
        <div class="page">{children}</div>
      </main>
      {bar ?? <MainBar />}
    </div>
  );
}
