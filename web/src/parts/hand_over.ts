// Hands a file to the person: through the phone's share sheet where there is one, else as a download.

/** A name a file system takes: letters and digits of any script, the rest as hyphens. */
export function fileName(name: string, fallback: string): string {
  return (
    name
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 60) || fallback
  );
}

export function canShare(file: File): boolean {
  return (navigator.canShare?.({ files: [file] }) ?? false) && matchMedia('(pointer: coarse)').matches;
}

export function download(file: File): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

export async function handOver(file: File): Promise<void> {
  if (canShare(file)) {
    try {
      return await navigator.share({ files: [file] });
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
    }
  }
  download(file);
}
