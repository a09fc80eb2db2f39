import type { HubtrueApi } from '../../src-main/api.ts';
import { browserApi } from './browser-api.ts';

declare global {
  interface Window {
    /** Put there by the desktop window's preload script; absent in a browser. */
    readonly hubtrue?: HubtrueApi;
  }
}

/** The main floor as this page reaches it: through the desktop window's preload, else over loopback. */
export function hostApi(): HubtrueApi {
  return window.hubtrue ?? browserApi();
}
