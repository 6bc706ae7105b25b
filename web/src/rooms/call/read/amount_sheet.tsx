// The sheet in which one amount is entered: what, its range on a sound machine, the keys. What is being typed is
// kept at every stroke until it is saved.
import type { ComponentChildren } from 'preact';
import { Keypad } from '../../../parts/keypad';
import { spokenWith, unfinished, withoutUnit } from '../../../parts/keypad_text';
import { Sheet } from '../../../parts/parts';
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import { say } from '../../../words/words';
import { HeardAs } from './heard_as';
import { useUnderstood, type Site } from './understood';
import { unitsOf, useVocabulary } from './vocabulary';

export function AmountSheet({
  title,
  kind,
  draft,
  units: given,
  site,
  onSave,
  onClose,
  children,
  below,
}: {
  title: string;
  /** The core's name of the kind of quantity. */
  kind: string;
  draft: string;
  /** Other units than the kind's usual ones. */
  units?: readonly string[];
  site: Site;
  onSave: (text: string) => void;
  onClose: () => void;
  children?: ComponentChildren;
  below?: ComponentChildren;
}) {
  const words = useVocabulary();
  const system = prefs.units.value;
  const text = app.store.draft(draft);
  const remembered = app.store.draft(`unit.${kind}.${given?.join() ?? ''}.${system}`);
  const units = given ?? unitsOf(words, kind, system);
  const unit = units.includes(remembered.value) ? remembered.value : (units[0] ?? '');
  const { heard, problem, busy } = useUnderstood(text.value, kind, unit, site);
  // A core without that use case takes the text as it stands; the call's own checks speak then.
  const unheard = problem?.field === 'command';
  const save = () => {
    onSave(heard?.text ?? spokenWith(text.value, unit));
    text.value = '';
  };
  return (
    <Sheet title={title} onClose={onClose}>
      {children}
      <Keypad
        label={title}
        text={text.value}
        onText={(t) => (text.value = t)}
        units={units}
        unit={unit}
        onUnit={(u) => {
          remembered.value = u;
          text.value = withoutUnit(text.value);
        }}
        withFractions={kind === 'mass' || kind === 'length' || kind === 'volume'}
        withOpen={kind === 'resistance'}
        understood={heard && <HeardAs {...{ heard, words, kind }} />}
        problem={
          problem && !unheard
            ? say('call.problem', { given: problem.given, allowed: problem.allowed, why: problem.why })
            : null
        }
        onSave={save}
        canSave={!unfinished(text.value) && !busy && (heard !== null || unheard)}
      />
      {below}
      {busy && <span class="spoken">{say('shell.working')}</span>}
    </Sheet>
  );
}
