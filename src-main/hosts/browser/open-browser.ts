import { spawn } from 'node:child_process';

/** Opens an address in the default browser where the system has a way to; silence where it has not. */
export function openBrowser(address: string): void {
  const [command, ...args] =
    process.platform === 'darwin'
      ? ['open', address]
      : process.platform === 'win32'
        ? ['rundll32', 'url.dll,FileProtocolHandler', address]
        : ['xdg-open', address];
  if (command === undefined) return;
  try {
    const child = spawn(command, args, { detached: true, stdio: 'ignore' });
    child.on('error', () => {});
    child.unref();
  } catch {
    // The address has been printed; a person can open it by hand.
  }
}
