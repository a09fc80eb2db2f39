/** What no page of this program may do: ask for permissions, go elsewhere, open windows, attach views, use the network. */
import { app, session } from 'electron';
import { isLocalAddress, isOwnAddress } from './page-address.ts';

/** The one permission the window uses: writing the table to the clipboard on a press of a button. */
const granted = new Set(['clipboard-sanitized-write']);

export function denyPermissions(): void {
  const own = session.defaultSession;
  own.setPermissionRequestHandler((_contents, permission, answer) => answer(granted.has(permission)));
  own.setPermissionCheckHandler((_contents, permission) => granted.has(permission));
  own.setDevicePermissionHandler(() => false);
}

/** Hubtrue works offline: nothing but the page's own scheme, and what the page makes itself, is ever requested. */
export function denyNetwork(): void {
  session.defaultSession.webRequest.onBeforeRequest((details, answer) =>
    answer({ cancel: !isLocalAddress(details.url) }),
  );
}

export function denyNavigation(): void {
  app.on('web-contents-created', (_event, contents) => {
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
    contents.on('will-navigate', (event) => {
      if (!isOwnAddress(event.url)) event.preventDefault();
    });
    contents.on('will-redirect', (event) => {
      if (!isOwnAddress(event.url)) event.preventDefault();
    });
    contents.on('will-attach-webview', (event) => event.preventDefault());
  });
}
