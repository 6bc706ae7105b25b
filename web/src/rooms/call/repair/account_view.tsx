// The account of refrigerant: what went into each cylinder and came out of it, and what went to the air. The
// core reads the masses; here they are only added up.
import { useEffect, useState } from 'preact/hooks';
import { ProblemError } from '../../../engine/engine';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { Entry } from '../../../store/store';
import { number, say, sayCount } from '../../../words/words';
import { accountOf, massesIn, movementOf, type Account } from './kinds';

/** The mass of a text, kg; null where the core can't take it for one. */
async function massOf(text: string): Promise<number | null> {
  try {
    return (await app.engine.ask('quantity', { kind: 'mass', text })).value.si;
  } catch (error) {
    if (error instanceof ProblemError) return null;
    throw error;
  }
}

function useAccount(entries: readonly Entry[]): Account | null {
  const [account, setAccount] = useState<Account | null>(null);
  const movements = entries.filter((e) => e.kind === 'refrigerant_moved').map(movementOf);
  const key = JSON.stringify(movements);
  useEffect(() => {
    let left = false;
    const texts = massesIn(movements);
    void Promise.all(texts.map(massOf)).then((masses) => {
      const known = new Map(texts.map((t, i) => [t, masses[i]!]));
      if (!left) setAccount(accountOf(movements, (t) => known.get(t) ?? null));
    });
    return () => {
      left = true;
    };
  }, [key]);
  return movements.length > 0 ? account : null;
}

/** A sum in the unit of the system in use: exact factors of the units' definitions. */
export function massText(kg: number, system: 'us' | 'metric'): string {
  return system === 'us' ? `${number(kg / 0.028349523125, 2)} oz` : `${number(kg * 1000, 0)} g`;
}

export function AccountView({ entries }: { entries: readonly Entry[] }) {
  const account = useAccount(entries);
  if (!account) return null;
  const mass = (kg: number) => (kg === 0 ? '–' : massText(kg, prefs.units.value));
  return (
    <section class="account tool" aria-label={say('repair.account')} data-name="account">
      <h3>{say('repair.account')}</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">{say('repair.account_cylinder')}</th>
            <th scope="col">{say('repair.account_into')}</th>
            <th scope="col">{say('repair.account_out_of')}</th>
          </tr>
        </thead>
        <tbody>
          {account.rows.map((r) => (
            <tr key={r.cylinder}>
              <th scope="row">
                {r.cylinder ? <span data-own-words>{r.cylinder}</span> : say('repair.account_unnamed')}
              </th>
              <td class="number">{mass(r.into)}</td>
              <td class="number">{mass(r.outOf)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {account.gone > 0 && <p>{say('repair.account_gone', { mass: mass(account.gone) })}</p>}
      {account.unknown > 0 && <p class="problem">{sayCount('repair.account_unknown', account.unknown)}</p>}
    </section>
  );
}
