// Language, units, light, where gauges are read, how this phone keeps the calls, and what this program is.
import { useEffect, useState } from 'preact/hooks';
import { Button, Choice, Notice } from '../../parts/parts';
import { app } from '../../shell/app';
import { Frame } from '../../shell/frame';
import { prefs } from '../../shell/prefs';
import { href } from '../../shell/route';
import { bytesText, say } from '../../words/words';
import { AboutProgram } from './about';
import { SiteField } from './site';
import '../handy/handy.css';

function Storage() {
  const [kept, setKept] = useState<{ used: number; quota: number; persisted: boolean } | null>(null);
  useEffect(() => {
    void Promise.all([app.store.usage(), app.store.persisted()]).then(([usage, persisted]) =>
      setKept({ ...usage, persisted }),
    );
  }, []);
  if (!kept) return null;
  return (
    <section class="stack">
      <h2>{say('settings.storage')}</h2>
      <p>{say('settings.used', { used: bytesText(kept.used), quota: bytesText(kept.quota) })}</p>
      <Notice tone={kept.persisted ? 'good' : 'warn'}>
        {say(kept.persisted ? 'settings.persisted' : 'settings.not_persisted')}
      </Notice>
    </section>
  );
}

export function Settings() {
  return (
    <Frame title={say('settings.title')}>
      <Choice
        legend={say('settings.language')}
        value={prefs.language.value}
        onChoose={(v) => (prefs.language.value = v)}
        options={[
          { value: 'en', label: 'English' },
          { value: 'es', label: 'Español' },
          { value: 'fr', label: 'Français' },
        ]}
      />
      <Choice
        legend={say('settings.units')}
        value={prefs.units.value}
        onChoose={(v) => (prefs.units.value = v)}
        options={[
          { value: 'us', label: say('settings.us') },
          { value: 'metric', label: say('settings.metric') },
        ]}
      />
      <Choice
        legend={say('settings.theme')}
        value={prefs.theme.value}
        onChoose={(v) => (prefs.theme.value = v)}
        options={(['system', 'light', 'dark', 'sunlight'] as const).map((value) => ({
          value,
          label: say(`settings.${value}`),
        }))}
      />
      <section class="stack">
        <h2>{say('settings.site_title')}</h2>
        <SiteField />
      </section>
      <section class="stack">
        <h2>{say('settings.memory')}</h2>
        <p>{say('settings.memory_note')}</p>
        <Button icon="list" href={href({ room: 'settings', part: 'memory' })} name="to-memory">
          {say('settings.memory_open')}
        </Button>
      </section>
      <Storage />
      <AboutProgram />
    </Frame>
  );
}
