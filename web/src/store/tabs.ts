// Tells the other tabs that a call grew. Only a hint: what it says is read from the database.
export interface Tabs {
  tell(call: string): void;
  close(): void;
}

export function joinTabs(name: string, onCall: (call: string) => void): Tabs {
  if (typeof BroadcastChannel === 'undefined') return { tell: () => {}, close: () => {} };
  const channel = new BroadcastChannel(name);
  channel.onmessage = (event: MessageEvent<unknown>) => {
    if (typeof event.data === 'string') onCall(event.data);
  };
  return { tell: (call) => channel.postMessage(call), close: () => channel.close() };
}
