// What this program is: version, update, licence, and the publications its numbers rest on.
import { citation } from '../../parts/citation';
import { useSignal } from '@preact/signals';
import type { UseCases } from '../../engine/engine';
import { Button, Notice } from '../../parts/parts';
import { offlineReady, takeUpdate, updateWaiting } from '../../shell/update';
import { useAsk } from '../../shell/use_ask';
import { say } from '../../words/words';
import { references } from './references';

function References() {
  // Each answer names what it rests on; these two together touch the catalogue and the equations carried.
  const catalogue = useAsk('refrigerants', {}).answer;
  const listed = catalogue?.refrigerants ?? [];
  const carried = listed.filter((r) => r.equation_carried).map((r) => r.designation);
  const first = useAsk('card', line(carried.slice(0, 40))).answer;
  const second = useAsk('card', line(carried.slice(40, 80))).answer;
  const all = references([catalogue, first, second].map((a) => a?.about.references ?? []));
  return (
    <ul class="sources stack small" data-name="references">
      {all.map((r) => (
        <li key={r.key} class="citation">
          {citation(r)}
        </li>
      ))}
    </ul>
  );
}

/** The shortest card there is: only its sources are wanted. */
function line([first, ...more]: string[]): UseCases['card']['request'] | null {
  return first ? { refrigerants: [first, ...more], from: '0 °C', to: '1 °C', step: '1 K' } : null;
}

export function AboutProgram() {
  const open = useSignal(false);
  const about = useAsk('refrigerants', {}).answer?.about;
  return (
    <>
      <section class="stack">
        <h2>{say('settings.version_title')}</h2>
        {updateWaiting.value && (
          <Notice>
            <p>{say('settings.update')}</p>
            <Button onPress={takeUpdate} name="take-update">
              {say('settings.take_update')}
            </Button>
          </Notice>
        )}
        {about && (
          <p>
            {say('settings.version', { version: about.version })}
            <br />
            <span class="quiet">{say('settings.data', { data: about.data })}</span>
          </p>
        )}
        <p class="quiet">{say(offlineReady.value ? 'settings.offline_ready' : 'settings.not_offline')}</p>
        <Notice tone="warn">{say('settings.caution')}</Notice>
      </section>
      <section class="stack">
        <h2>{say('settings.licence_title')}</h2>
        <p>{say('settings.licence')}</p>
      </section>
      <details class="disclosure" onToggle={(e) => (open.value = e.currentTarget.open)}>
        <summary>{say('settings.references')}</summary>
        {open.value && <References />}
      </details>
    </>
  );
}
