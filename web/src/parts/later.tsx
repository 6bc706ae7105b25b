// A screen that is loaded when it is first looked at, so that the first visit doesn't wait for it.
import type { ComponentChildren, ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Notice } from './parts';
import { say } from '../words/words';

/** `load` gives a module whose default is the screen. Until it is there, and where it can't be had, what is said of it
    stands in `Around`: a screen of its own needs its frame, or there would be no way back. */
export function later<P extends object>(
  load: () => Promise<{ default: ComponentType<P> }>,
  Around: ComponentType<{ children: ComponentChildren }> = ({ children }) => <>{children}</>,
): ComponentType<P> {
  let loaded: ComponentType<P> | null = null;
  return function Later(props: P) {
    const [Screen, setScreen] = useState<ComponentType<P> | null>(() => loaded);
    const [failed, setFailed] = useState(false);
    useEffect(() => {
      let gone = false;
      if (!loaded)
        load().then(
          (found) => {
            loaded = found.default;
            if (!gone) setScreen(() => loaded);
          },
          () => setFailed(true), // a version of the app that is no longer there
        );
      return () => void (gone = true);
    }, []);
    if (Screen) return <Screen {...props} />;
    return (
      <Around>
        {failed ? (
          <Notice tone="bad">{say('shell.not_loaded')}</Notice>
        ) : (
          <p class="quiet">{say('shell.working')}</p>
        )}
      </Around>
    );
  };
}
