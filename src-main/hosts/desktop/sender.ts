/** Who sent a message of the page. Free of Electron, so that it can be tested. */
import { isOwnAddress } from './page-address.ts';

/** What Electron tells about the frame that sent a message. */
export interface SenderFrame {
  readonly url: string;
  /** Null for the top frame. */
  readonly parent: unknown;
}

/** Only the top frame of our own page may ask for anything; a frame that has gone is nobody. */
export function isTrustedSender(frame: SenderFrame | null): boolean {
  return frame !== null && frame.parent === null && isOwnAddress(frame.url);
}
