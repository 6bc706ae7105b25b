// One call: opens it from the store, shows its stage, and the bar of stages at the thumb.
import { useEffect, useState } from 'preact/hooks';
import { Button, Notice } from '../../parts/parts';
import type { IconName } from '../../parts/icon';
import { app } from '../../shell/app';
import { BottomBar, Frame } from '../../shell/frame';
import { stages, type Stage } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { say, sayCount } from '../../words/words';
import { openOnes, useCautions } from './safety/cautions';
import { takeFile } from './take_file';
import { StageOf } from './stages';

const icons: Record<Stage, IconName> = {
  unit: 'plate',
  safety: 'shield',
  look: 'eye',
  read: 'gauge',
  answer: 'scales',
  do: 'steps',
};

function Trouble({ call }: { call: OpenCall }) {
  const trouble = call.trouble.value;
  if (!trouble) return null;
  return (
    <Notice tone="bad">
      <p>
        {trouble.kind === 'quota'
          ? sayCount('call.trouble_quota', trouble.unsaved)
          : say(trouble.kind === 'blocked' ? 'call.trouble_blocked' : 'call.trouble_broken')}
      </p>
      <Button icon="share" onPress={() => void takeFile(call)}>
        {say('call.take_file')}
      </Button>
    </Notice>
  );
}

/** The stages at the thumb; at safety, how many cautions aren't ticked. */
function Stages({ call, stage }: { call: OpenCall; stage: Stage }) {
  const cautions = useCautions(call);
  const open = cautions ? openOnes(cautions, call.standing.value) : 0;
  return (
    <BottomBar
      label={say('call.stages')}
      items={stages.map((s) => ({
        icon: icons[s],
        text: say(`call.${s}`),
        to: { room: 'call', id: call.id, stage: s },
        here: s === stage,
        ...(s === 'safety' && open > 0
          ? { mark: `!${open}`, markSaid: sayCount('call.safety_open', open) }
          : {}),
      }))}
    />
  );
}

export function CallRoom({ id, stage, part }: { id: string; stage: Stage; part: string | null }) {
  const [call, setCall] = useState<OpenCall | null | undefined>(undefined);
  useEffect(() => {
    let opened: OpenCall | null = null;
    let left = false;
    void app.store.open(id).then((found) => {
      opened = found;
      if (left) found?.close();
      else setCall(found);
    });
    return () => {
      left = true;
      opened?.close();
    };
  }, [id]);

  if (call === undefined) return <Frame title="">{null}</Frame>;
  if (call === null)
    return (
      <Frame title={say('calls.title')} back={{ room: 'calls' }}>
        <Notice tone="warn">{say('call.gone')}</Notice>
      </Frame>
    );
  return (
    <Frame
      title={call.name.value}
      back={part ? { room: 'call', id, stage } : { room: 'calls' }}
      actions={
        <>
          <Button
            icon="undo"
            kind="bare"
            label={say('shell.undo')}
            disabled={!call.canUndo.value}
            onPress={() => void call.undo()}
            name="undo"
          />
          {call.canRedo.value && (
            <Button
              icon="redo"
              kind="bare"
              label={say('shell.redo')}
              onPress={() => void call.redo()}
              name="redo"
            />
          )}
        </>
      }
      bar={<Stages call={call} stage={stage} />}
    >
      <Trouble call={call} />
      <StageOf call={call} stage={stage} part={part} />
    </Frame>
  );
}
