// Hands the call to the person as one file: through the phone's share sheet where there is one, else as a
// download.
import type { OpenCall } from '../../store/store';

export async function takeFile(call: OpenCall): Promise<void> {
  const name = `${
    call.name
      .peek()
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .slice(0, 60) || 'call'
  }.json`;
  const file = new File([await call.exportFile()], name, { type: 'application/json' });
  if (navigator.canShare?.({ files: [file] }) && matchMedia('(pointer: coarse)').matches) {
    try {
      return await navigator.share({ files: [file] });
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
