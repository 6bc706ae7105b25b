// Where gauges are read: an altitude or a barometer, one setting that every tool shares.
import { useSignal } from '@preact/signals';
import type { Problem } from '../../engine/engine';
import { Sheet } from '../../parts/parts';
import { Icon } from '../../parts/icon';
import { prefs, type Units } from '../../shell/prefs';
import { useAsk } from '../../shell/use_ask';
import { say } from '../../words/words';
import { AmountField, useAmount } from '../handy/amount_field';
import { concerns, useStanding, worded } from '../handy/problems';
import { split } from '../handy/units';

const lengths = /^(ft|foot|feet|'|m|metres?|meters?|km)$/i;

/** What was typed is an altitude where its unit is a length, else what a barometer shows. */
export function siteOf(said: string | null): { altitude?: string; barometer?: string } {
  if (!said) return {};
  return lengths.test(split(said).unit) ? { altitude: said } : { barometer: said };
}

/** What every tool's request carries: the place, and the units the answer is worded in, whatever was typed. */
export function useSurroundings(): { altitude?: string; barometer?: string; units: Units } {
  return { ...siteOf(useAmount('site', 'site').said), units: prefs.units.value };
}

/** The field itself, answering with the pressure gauges are then read against. */
export function SiteField() {
  const input = useAmount('site', 'site');
  const site = siteOf(input.said);
  // Any answer tells the site's pressure; water's boiling point is the one that says most about it.
  const asked = useAsk('saturation', {
    refrigerant: 'R718',
    at: '100 °C',
    ...site,
    units: prefs.units.value,
  });
  const problem = useStanding(asked.problem);
  const field = site.barometer ? 'barometer' : 'altitude';
  return (
    <AmountField
      label={say('settings.site')}
      hint={
        asked.answer
          ? say(input.said ? 'settings.site_reads' : 'settings.site_sea', {
              pressure: asked.answer.site_pressure.text,
            })
          : undefined
      }
      input={input}
      field={field}
      problem={problem}
    />
  );
}

/** In a tool: one line that says where, and opens the setting. */
export function SiteLine({ pressure, problem }: { pressure?: string; problem: Problem | null }) {
  const open = useSignal(false);
  const said = useAmount('site', 'site').said;
  const wrong = concerns(problem, 'altitude') || concerns(problem, 'barometer') ? worded(problem!) : null;
  return (
    <div class="field">
      <button
        type="button"
        class="site-line"
        data-name="site"
        aria-haspopup="dialog"
        onClick={() => (open.value = true)}
      >
        <span>
          {said ? say('settings.site_at', { where: said }) : say('settings.at_sea_level')}
          {pressure && ` · ${pressure}`}
        </span>
        <span class="change">
          <span class="spoken">{say('handy.change')}</span> <Icon name="swap" />
        </span>
      </button>
      {wrong && (
        <span class="problem" role="alert">
          {wrong}
        </span>
      )}
      {open.value && (
        <Sheet title={say('settings.site_title')} onClose={() => (open.value = false)}>
          <SiteField />
        </Sheet>
      )}
    </div>
  );
}
