/** The address of the page in the desktop window, and how to tell it from any other. Free of Electron. */

export const scheme = 'hubtrue';
const host = 'app';
export const pageAddress = `${scheme}://${host}/index.html`;

/** Whether an address belongs to our own page. Parsed, never compared by prefix. */
export function isOwnAddress(address: string): boolean {
  try {
    const parsed = new URL(address);
    return parsed.protocol === `${scheme}:` && parsed.host === host;
  } catch {
    return false;
  }
}

/** Whether a request stays inside the program: the page's own files, and data that the page holds itself. */
export function isLocalAddress(address: string): boolean {
  if (address.startsWith('data:') || isOwnAddress(address)) return true;
  // An object address carries the address of the page that made it.
  return address.startsWith('blob:') && isOwnAddress(address.slice('blob:'.length));
}
