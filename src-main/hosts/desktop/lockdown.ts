/**
 * What no page of this program may do: ask for permissions, go elsewhere, open windows, attach views, use the network, fetch
 * files.
 */
import { app, session, type WebContents } from 'electron';
import { isLocalAddress, isOwnAddress } from './page-address.ts';

/** The one permission the window uses: writing the table to the clipboard on a press of a button. */
const granted = new Set(['clipboard-sanitized-write']);

export function denyPermissions(): void {
  const own = session.defaultSession;
  const mayHave = (contents: WebContents | null, permission: string): boolean =>
    granted.has(permission) && contents !== null && isOwnAddress(contents.getURL());
  own.setPermissionRequestHandler((contents, permission, answer) => answer(mayHave(contents, permission)));
  own.setPermissionCheckHandler(mayHave);
  own.setDevicePermissionHandler(() => false);
}

/** Hubtrue works offline: nothing but the page's own scheme, and what the page makes itself, is ever requested. */
export function denyNetwork(): void {
  session.defaultSession.webRequest.onBeforeRequest((details, answer) =>
    answer({ cancel: !isLocalAddress(details.url) }),
  );
}

/** The page keeps pictures of its charts as downloads of what it holds itself; the system asks where to. */
export function denyForeignDownloads(): void {
  session.defaultSession.on('will-download', (event, item) => {
    if (!isLocalAddress(item.getURL())) event.preventDefault();
  });
}

export function denyNavigation(): void {
  app.on('web-contents-created', (_event, contents) => {
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
    const stayHome = (event: { readonly url: string; preventDefault(): void }): void => {
      if (!isOwnAddress(event.url)) event.preventDefault();
    };
    contents.on('will-navigate', stayHome);
    contents.on('will-frame-navigate', stayHome);
    contents.on('will-redirect', stayHome);
    contents.on('will-attach-webview', (event) => event.preventDefault());
  });
}
