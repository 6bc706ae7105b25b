// Look: what is seen, heard, felt and asked. One tap says it, a second takes it back.
import { useEffect } from 'preact/hooks';
import { Button, Choice } from '../../../parts/parts';
import { Icon } from '../../../parts/icon';
import { href } from '../../../shell/route';
import type { OpenCall } from '../../../store/store';
import { say, sayCount } from '../../../words/words';
import { condenserOf } from '../read/condenser';
import { seenOf, withdrawal } from '../read/fold';
import { Photos } from '../read/photos';
import { useVocabulary, type Vocabulary } from '../read/vocabulary';
import { wanted } from '../wanted';
import './look.css';

type Subject = Vocabulary['observations'][number];

function SubjectRow({ call, subject }: { call: OpenCall; subject: Subject }) {
  const entry = seenOf(call.standing.value).get(subject.word);
  return (
    <div class="subject" data-name={`observe:${subject.word}`} tabIndex={-1}>
      <Choice
        legend={subject.question}
        value={entry ? String(entry.value) : null}
        options={subject.values.map((v) => ({ value: v.word, label: v.label }))}
        onChoose={(value) =>
          void call.add({
            kind: 'observation',
            subject: subject.word,
            value,
            ...(entry ? { replaces: entry.id } : {}),
          })
        }
        onClear={() => entry && void call.add(withdrawal(entry))}
      />
      <p class="cost small quiet">
        {sayCount('call.minutes', Math.max(1, Math.round(subject.minutes)))}
        {subject.hazard_text && (
          <span class="hazard">
            <Icon name="warn" /> {subject.hazard_text}
          </span>
        )}
      </p>
      {entry && (
        <div class="row">
          <Photos call={call} entry={entry} of={subject.label} />
        </div>
      )}
    </div>
  );
}

export function LookStage({ call }: { call: OpenCall }) {
  const words = useVocabulary();
  useEffect(() => {
    if (!words || wanted.value?.kind !== 'observation') return;
    const place = document.querySelector<HTMLElement>(`[data-name="observe:${wanted.value.subject}"]`);
    wanted.value = null;
    place?.scrollIntoView({ block: 'center' });
    place?.querySelector<HTMLElement>('input')?.focus({ preventScroll: true });
  }, [words]);
  if (!words) return <p class="quiet">{say('shell.working')}</p>;
  const standing = call.standing.value;
  const seen = seenOf(standing);
  // Nobody is asked for a fan that the machine doesn't have; what was said of one can still be taken back.
  const stillAir = condenserOf(standing, words) === 'wire_tube_natural';
  const isThere = (o: Subject) => !(stillAir && o.word === 'condenser_fan');
  return (
    <>
      <p class="quiet">{say('call.look_how')}</p>
      {words.groups.map((group) => (
        <section class="stack" key={group.word}>
          <h2 class="group">{group.label}</h2>
          {words.observations
            .filter((o) => o.group === group.word && (isThere(o) || seen.has(o.word)))
            .map((o) => (
              <SubjectRow key={o.word} call={call} subject={o} />
            ))}
        </section>
      ))}
      <Button kind="main" wide href={href({ room: 'call', id: call.id, stage: 'read' })} name="to-read">
        {say('call.on_to', { stage: say('call.read') })}
      </Button>
    </>
  );
}
