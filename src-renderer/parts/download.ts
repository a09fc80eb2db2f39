/** Hands the person a text file that the page made. */
export function download(name: string, content: string, type: string): void {
  downloadBlob(name, new Blob([content], { type }));
}

/** Hands the person a file as bytes. */
export function downloadBytes(name: string, content: Uint8Array<ArrayBuffer>, type: string): void {
  downloadBlob(name, new Blob([content], { type }));
}

export function downloadBlob(name: string, blob: Blob): void {
  const address = URL.createObjectURL(blob);
  downloadAddress(name, address);
  // The browser reads the address when it handles the click; give it a turn before letting go.
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}

export function downloadAddress(name: string, address: string): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
}

/** Copies text; false where the browser refuses. */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/** Room is left for what follows it: even signs of four bytes stay below the 255 bytes that a name may have. */
const LONGEST_STEM = 50;

/** A title as a file name: only what a file system forbids is replaced, and spaces, which commands divide at. */
export function fileStem(title: string): string {
  const stem = title.replaceAll(/[\p{C}\s<>:"/\\|?*]+/gu, '-').replace(/^[.-]+/, '');
  // By whole signs: half of one is no text.
  const short = [...stem]
    .slice(0, LONGEST_STEM)
    .join('')
    .replace(/[.-]+$/, '')
    .toLowerCase();
  return short === '' ? 'disc' : short;
}
