// A name and what a finger draws beside it. Kept stroke by stroke as a draft, an entry once it is taken down.
import { useRef, useState } from 'preact/hooks';
import { Button, Choice, Field, Sheet } from '../../../parts/parts';
import { app } from '../../../shell/app';
import type { Entry, OpenCall } from '../../../store/store';
import { moment, say } from '../../../words/words';
import { withdrawal } from '../read/fold';
import { begun, drawn, padHeight, padWidth, shortened } from './strokes';

function Drawn({ path, label }: { path: string; label?: string }) {
  return (
    <svg
      class="signature"
      viewBox={`0 0 ${padWidth} ${padHeight}`}
      role={label ? 'img' : undefined}
      aria-label={label}
    >
      <path d={path} />
    </svg>
  );
}

function Pad({ path, onPath }: { path: string; onPath: (path: string) => void }) {
  const place = useRef<HTMLDivElement>(null);
  const latest = useRef(path);
  latest.current = path;
  const pen = useRef<number | null>(null);
  const put = (next: string) => {
    latest.current = next; // several moves may come before the next drawing
    onPath(next);
  };
  const point = (e: PointerEvent): [number, number] => {
    const box = place.current!.getBoundingClientRect();
    return [
      ((e.clientX - box.left) / box.width) * padWidth,
      ((e.clientY - box.top) / box.height) * padHeight,
    ];
  };
  return (
    <div
      class="sign-pad"
      ref={place}
      data-name="sign-pad"
      onPointerDown={(e) => {
        if (pen.current !== null) return; // the heel of the hand
        pen.current = e.pointerId;
        e.currentTarget.setPointerCapture(e.pointerId);
        put(begun(latest.current, ...point(e)));
      }}
      onPointerMove={(e) => {
        if (e.pointerId === pen.current) put(drawn(latest.current, ...point(e)));
      }}
      onPointerUp={(e) => {
        if (e.pointerId === pen.current) pen.current = null;
      }}
      onPointerCancel={(e) => {
        if (e.pointerId === pen.current) pen.current = null;
      }}
    >
      <Drawn path={path} />
      {!path && <span class="quiet">{say('repair.sign_here')}</span>}
    </div>
  );
}

function SignSheet({ call, onClose }: { call: OpenCall; onClose: () => void }) {
  const draft = (key: string) => app.store.draft(`${call.id}.sign.${key}`);
  const [role, name, path] = [draft('role'), draft('name'), draft('path')];
  const save = () => {
    void call.add({
      kind: 'signature',
      role: role.value || 'customer',
      name: name.value.trim(),
      ...(path.value ? { path: path.value, width: padWidth, height: padHeight } : {}),
    });
    for (const d of [role, name, path]) d.value = '';
    onClose();
  };
  return (
    <Sheet title={say('repair.sign')} onClose={onClose}>
      <Choice
        legend={say('repair.sign_role')}
        value={role.value || 'customer'}
        options={[
          { value: 'customer', label: say('repair.role_customer') },
          { value: 'technician', label: say('repair.role_technician') },
        ]}
        onChoose={(r) => (role.value = r)}
      />
      <Field
        label={say('repair.sign_name')}
        value={name.value}
        onInput={(t) => (name.value = t)}
        name="sign-name"
      />
      <Pad path={path.value} onPath={(p) => (path.value = p)} />
      <div class="row">
        <Button
          icon="undo"
          disabled={!path.value}
          onPress={() => (path.value = shortened(path.value))}
          name="sign-back"
        >
          {say('repair.sign_back')}
        </Button>
        <Button icon="trash" disabled={!path.value} onPress={() => (path.value = '')} name="sign-clear">
          {say('repair.sign_clear')}
        </Button>
      </div>
      <Button kind="main" wide disabled={!name.value.trim()} onPress={save} name="sign-save">
        {say('repair.sign_save')}
      </Button>
    </Sheet>
  );
}

function Signed({ call, entry }: { call: OpenCall; entry: Entry }) {
  const name = String(entry.name ?? '');
  const role = say(entry.role === 'technician' ? 'repair.role_technician' : 'repair.role_customer');
  return (
    <li class="signed">
      <div>
        <strong data-own-words>{name}</strong>
        <p class="small quiet">
          {role} · {moment(entry.at)}
        </p>
      </div>
      <Button
        icon="trash"
        kind="bare"
        label={say('call.withdraw', { what: `${say('repair.sign')}, ${name}` })}
        onPress={() => void call.add(withdrawal(entry))}
      />
      {typeof entry.path === 'string' && entry.path !== '' && (
        <Drawn path={entry.path} label={`${say('repair.sign')}: ${name}`} />
      )}
    </li>
  );
}

export function Signatures({ call }: { call: OpenCall }) {
  const [signing, setSigning] = useState(false);
  const entries = call.standing.value.filter((e) => e.kind === 'signature');
  return (
    <section class="stack" aria-label={say('repair.signatures')} data-name="signatures">
      <h3>{say('repair.signatures')}</h3>
      {entries.length > 0 && (
        <ul class="stack">
          {entries.map((e) => (
            <Signed key={e.id} call={call} entry={e} />
          ))}
        </ul>
      )}
      <Button icon="plus" wide onPress={() => setSigning(true)} name="sign">
        {say('repair.add_signature')}
      </Button>
      {signing && <SignSheet call={call} onClose={() => setSigning(false)} />}
    </section>
  );
}
