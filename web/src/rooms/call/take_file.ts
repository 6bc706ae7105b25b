// Hands the call to the person as one file: through the phone's share sheet where there is one, else as a
// download.
import { fileName, handOver } from '../../parts/hand_over';
import type { OpenCall } from '../../store/store';

export async function takeFile(call: OpenCall): Promise<void> {
  const name = `${fileName(call.name.peek(), 'call')}.json`;
  await handOver(new File([await call.exportFile()], name, { type: 'application/json' }));
}
