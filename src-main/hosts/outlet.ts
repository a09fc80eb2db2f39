/** How a host gets a file to the person: the desktop asks for a place, the browser hands over a download. */
import type { Download } from '../api.ts';

export interface Proposal {
  /** File name with its ending. */
  readonly name: string;
  /** What the file is, for the title of a dialog. */
  readonly title: string;
}

export type Place =
  | { readonly kind: 'path'; readonly path: string }
  /** The file is to be handed over with `hand`. */
  | { readonly kind: 'download' };

export interface Outlet {
  /** Null: the person cancelled. */
  place(proposal: Proposal): Promise<Place | null>;
  hand(file: Download): void;
}

/** Media types by the ending of the name. */
const TYPES: Readonly<Record<string, string>> = {
  csv: 'text/csv;charset=utf-8',
  json: 'application/json',
  hubtrue: 'application/json',
  html: 'text/html;charset=utf-8',
  pdf: 'application/pdf',
  qif: 'application/xml',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
};

export function downloadOf(name: string, content: string | Uint8Array): Download {
  const ending = name.split('.').at(-1) ?? '';
  const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : Buffer.from(content);
  return { name, type: TYPES[ending] ?? 'application/octet-stream', base64: bytes.toString('base64') };
}
