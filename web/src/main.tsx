// Starts the page: words first, then the store, the engine beside it, and the first screen.
import './theme/tokens.css';
import './theme/base.css';
import './parts/parts.css';
import './shell/shell.css';
import { effect } from '@preact/signals';
import { render } from 'preact';
import { startEngine } from './engine/engine';
import { later } from './parts/later';
import { app } from './shell/app';
import { Frame } from './shell/frame';
import { prefs } from './shell/prefs';
import { route } from './shell/route';
import { keepOffline } from './shell/update';
import { warmUp } from './shell/warm_up';
import { openStore } from './store/store';
import { loadWords, say } from './words/words';
import { Calls } from './rooms/calls/calls';
import { CallRoom } from './rooms/call/call_room';
import { Handy } from './rooms/handy/handy';
import { Practice } from './rooms/practice/practice';
import { MemoryScreen } from './rooms/settings/memory/memory_screen';
import { Settings } from './rooms/settings/settings';

const TraceScreen = later(
  () => import('./rooms/trace/trace_screen'),
  ({ children }) => (
    <Frame title={say('trace.title')} back={{ room: 'handy', tool: null }}>
      {children}
    </Frame>
  ),
);

function Rooms() {
  const here = route.value;
  switch (here.room) {
    case 'calls':
      return <Calls />;
    case 'call':
      return <CallRoom key={here.id} id={here.id} stage={here.stage} part={here.part ?? null} />;
    case 'handy':
      return <Handy tool={here.tool} />;
    case 'practice':
      return <Practice />;
    case 'trace':
      return <TraceScreen />;
    case 'settings':
      return here.part === 'memory' ? <MemoryScreen /> : <Settings />;
  }
}

app.engine = startEngine(() => ({ language: prefs.language.peek(), units: prefs.units.peek() }));
const [store] = await Promise.all([openStore(), loadWords(prefs.language.peek())]);
app.store = store;
effect(() => void loadWords(prefs.language.value));
const root = document.getElementById('app')!;
root.replaceChildren();
render(<Rooms />, root);
void keepOffline();
warmUp();
