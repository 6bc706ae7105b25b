// Where the person is, from the address after '#', so that a reload comes back to the same place.
import { signal } from '@preact/signals';

export const stages = ['unit', 'safety', 'look', 'read', 'answer', 'do'] as const;
export type Stage = (typeof stages)[number];

export type Route =
  | { room: 'calls' }
  /** `part` is a place within the stage: a step of the repair under "do", a series under "read". */
  | { room: 'call'; id: string; stage: Stage; part?: string }
  | { room: 'handy'; tool: string | null }
  | { room: 'practice' }
  | { room: 'trace' }
  | { room: 'settings'; part?: string };

export function parse(hash: string): Route {
  const [room, a = '', b = '', c = ''] = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .map(decodeURIComponent);
  if (room === 'call' && a)
    return {
      room,
      id: a,
      stage: stages.includes(b as Stage) ? (b as Stage) : 'unit',
      ...(c ? { part: c } : {}),
    };
  if (room === 'handy') return { room, tool: a || null };
  if (room === 'practice' || room === 'trace') return { room };
  if (room === 'settings') return { room, ...(a ? { part: a } : {}) };
  return { room: 'calls' };
}

export function href(route: Route): string {
  switch (route.room) {
    case 'calls':
      return '#/';
    case 'call':
      return `#/call/${encodeURIComponent(route.id)}/${route.stage}${within(route.part)}`;
    case 'handy':
      return route.tool ? `#/handy/${route.tool}` : '#/handy';
    case 'practice':
      return '#/practice';
    case 'trace':
      return '#/trace';
    case 'settings':
      return `#/settings${within(route.part)}`;
  }
}

const within = (part: string | undefined) => (part ? `/${encodeURIComponent(part)}` : '');

export const route = signal<Route>(parse(location.hash));
addEventListener('hashchange', () => {
  route.value = parse(location.hash);
  document.querySelector('main')?.scrollTo(0, 0);
});

export function go(to: Route): void {
  location.hash = href(to);
}
