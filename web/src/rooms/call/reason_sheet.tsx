// The sheet that asks why something is passed over: of a caution and of a step of the repair. Without a reason
// it can't be saved; what is typed is a draft until then.
import type { ComponentChildren } from 'preact';
import { Button, Field, Sheet } from '../../parts/parts';
import { app } from '../../shell/app';
import { say } from '../../words/words';

export function ReasonSheet({
  title,
  draft,
  reasons = [],
  children,
  onClose,
  onSave,
}: {
  title: string;
  /** Names the draft. */
  draft: string;
  /** Offered to be tapped instead of typed. */
  reasons?: readonly { key: string; text: string }[];
  children?: ComponentChildren;
  onClose: () => void;
  onSave: (reason: string) => void;
}) {
  const reason = app.store.draft(draft);
  return (
    <Sheet title={title} onClose={onClose}>
      {children}
      {reasons.length > 0 && (
        <div class="row">
          {reasons.map((r) => (
            <Button key={r.key} onPress={() => (reason.value = r.text)} name={`reason-${r.key}`}>
              {r.text}
            </Button>
          ))}
        </div>
      )}
      <Field
        label={say('call.skip_reason')}
        value={reason.value}
        onInput={(text) => (reason.value = text)}
        lines={2}
        name="skip-reason"
      />
      <Button
        kind="main"
        wide
        disabled={!reason.value.trim()}
        name="skip-save"
        onPress={() => {
          onSave(reason.value.trim());
          reason.value = '';
        }}
      >
        {say('call.skip_save')}
      </Button>
    </Sheet>
  );
}
