/** Server-sent events: job events to every open page, with a short memory for a connection that broke off. */
import type { ServerResponse } from 'node:http';
import type { JobEvent } from '../../api.ts';
import { pageHeaders } from '../page-policy.ts';

/** Enough for the end of a job and the progress before it. */
const REMEMBERED = 40;

export interface EventStream {
  open(response: ServerResponse, lastSeen: string | undefined): void;
  send(event: JobEvent): void;
  close(): void;
}

export function createEventStream(): EventStream {
  const pages = new Set<ServerResponse>();
  const recent: { readonly id: number; readonly text: string }[] = [];
  let next = 1;
  return {
    open(response, lastSeen) {
      response.writeHead(200, { ...pageHeaders, 'Content-Type': 'text/event-stream; charset=utf-8' });
      // Only a page that comes back names the last event it saw; a new page wants none of the old ones. The id alone is
      // no event, but lets a page that loses this connection before its first event say from where it goes on.
      const seen = lastSeen === undefined ? next - 1 : Number(lastSeen);
      response.write(`id: ${seen}\n\n`);
      for (const event of recent) if (event.id > seen) response.write(event.text);
      pages.add(response);
      response.on('close', () => pages.delete(response));
    },
    send(event) {
      const id = next;
      next += 1;
      const text = `id: ${id}\nevent: job\ndata: ${JSON.stringify(event)}\n\n`;
      recent.push({ id, text });
      if (recent.length > REMEMBERED) recent.shift();
      for (const page of pages) page.write(text);
    },
    close() {
      for (const page of pages) page.end();
      pages.clear();
    },
  };
}
