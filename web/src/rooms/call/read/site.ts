// What the site says about the air that a gauge reads against.
import type { Entry } from '../../../store/store';
import { fieldsOf } from './fold';
import type { Site } from './understood';

export function siteOf(standing: readonly Entry[]): Site {
  const fields = fieldsOf(standing, 'site');
  const text = (name: string) => {
    const value = fields.get(name)?.[name];
    return value === undefined ? {} : { [name]: String(value) };
  };
  return { ...text('altitude'), ...text('barometer') };
}
