// A time stopped while it runs. When it was started is a draft, so that it goes on over a reload.
import type { Signal } from '@preact/signals';
import { Button } from '../../../parts/parts';
import { useNow } from '../../../parts/use_now';
import { say } from '../../../words/words';
import { elapsed } from './clock_text';

export function Stopwatch({
  started,
  onStop,
}: {
  started: Signal<string>;
  onStop: (seconds: number) => void;
}) {
  const from = Number(started.value) || null;
  const now = useNow(from === null ? null : 200);
  return from === null ? (
    <Button icon="clock" onPress={() => (started.value = String(Date.now()))} name="watch-start">
      {say('repair.watch_start')}
    </Button>
  ) : (
    <Button
      kind="main"
      icon="clock"
      onPress={() => {
        started.value = '';
        onStop((Date.now() - from) / 1000);
      }}
      name="watch-stop"
    >
      {say('repair.watch_stop', { time: elapsed(now - from) })}
    </Button>
  );
}
