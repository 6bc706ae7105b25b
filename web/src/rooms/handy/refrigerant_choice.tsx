// The refrigerant all tools share: a button that says which, and a sheet to choose another.
import { useSignal } from '@preact/signals';
import type { Problem } from '../../engine/engine';
import { Button, Field, Notice, Sheet } from '../../parts/parts';
import { Icon } from '../../parts/icon';
import { useAsk } from '../../shell/use_ask';
import { say } from '../../words/words';
import { concerns, worded } from './problems';
import {
  chooseRefrigerant,
  isComposition,
  recentRefrigerants,
  refrigerant,
  search,
  type Listed,
} from './recent';

function Chooser({ onChoose, onClose }: { onChoose: (name: string) => void; onClose: () => void }) {
  const text = useSignal('');
  const asked = useAsk('refrigerants', {});
  const list: readonly Listed[] = asked.answer?.refrigerants ?? [];
  const found = search(list, text.value);
  return (
    <Sheet title={say('handy.choose_refrigerant')} onClose={onClose}>
      {!text.value && (
        <ul class="recent" aria-label={say('handy.recent')}>
          {recentRefrigerants().map((name) => (
            <li key={name}>
              <Button wide onPress={() => onChoose(name)} name={`pick-${name}`}>
                {name}
              </Button>
            </li>
          ))}
        </ul>
      )}
      <Field
        label={say('handy.search')}
        hint={say('handy.search_hint')}
        value={text.value}
        onInput={(t) => (text.value = t)}
        name="refrigerant-search"
        onDone={() => undefined}
      />
      {isComposition(text.value) && (
        <Button kind="main" wide onPress={() => onChoose(text.value.trim())} name="pick-typed">
          {say('handy.take_typed', { what: text.value.trim() })}
        </Button>
      )}
      {asked.answer && text.value && !isComposition(text.value) && found.length === 0 && (
        <Notice>{say('handy.none_found')}</Notice>
      )}
      <ul class="all" aria-label={say('handy.catalogue')}>
        {found.map((r) => (
          <li key={r.designation}>
            <button type="button" class="pick" onClick={() => onChoose(r.designation)}>
              <strong>{r.designation}</strong>
              <span class="quiet small">{r.name}</span>
              <span class="number small">{r.safety_class ?? say('handy.no_class')}</span>
            </button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

/** `safetyClass` as an answer told it; undefined while none has. */
export function RefrigerantChoice({
  problem,
  safetyClass,
  field = 'refrigerant',
}: {
  problem: Problem | null;
  safetyClass?: string | null;
  field?: string;
}) {
  const choosing = useSignal(false);
  const wrong = concerns(problem, field) ? worded(problem!) : null;
  return (
    <div class="field">
      <button
        type="button"
        class="refrigerant"
        data-name="refrigerant"
        aria-invalid={wrong ? 'true' : undefined}
        aria-haspopup="dialog"
        onClick={() => (choosing.value = true)}
      >
        <span class="spoken">{say('handy.refrigerant')}: </span>
        <strong>{refrigerant()}</strong>
        {safetyClass !== undefined && <span class="class">{safetyClass ?? say('handy.no_class')}</span>}
        <span class="change">
          {say('handy.change')} <Icon name="swap" />
        </span>
      </button>
      {wrong && (
        <span class="problem" role="alert">
          {wrong}
        </span>
      )}
      {choosing.value && (
        <Chooser
          onClose={() => (choosing.value = false)}
          onChoose={(name) => {
            chooseRefrigerant(name);
            choosing.value = false;
          }}
        />
      )}
    </div>
  );
}
