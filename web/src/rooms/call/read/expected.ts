// What a sound machine of this kind shows here and now. Asked for plate and site alone: readings don't change it.
import type { UseCases } from '../../../engine/engine';
import type { Entry, OpenCall } from '../../../store/store';
import { useOnce } from './ask_once';
import { fieldsOf } from './fold';

export type Expected = UseCases['expect']['answer'];
export type Interval = Expected['now']['readings'][number]['interval'];

export function useExpected(call: OpenCall) {
  const standing = call.standing.value;
  const has = fieldsOf(standing, 'nameplate').has('cabinet');
  const machine = call.file().entries.filter((e) => ['nameplate', 'site'].includes((e as Entry).kind));
  return useOnce<Expected>('expect', has ? { call: { call: '-', entries: machine } } : null);
}

export function intervalOf(expected: Expected | null, what: string): Interval | null {
  return expected?.now.readings.find((r) => r.reading === what)?.interval ?? null;
}
