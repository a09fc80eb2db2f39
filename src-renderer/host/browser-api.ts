import type { Download, HostFacts, HubtrueApi, JobEvent, OpenedFile, Outcome } from '../../src-main/api.ts';
import { download, downloadBytes } from '../parts/download.ts';

/**
 * The same api over the loopback host: POST with JSON for calls, a raw body for a file, server-sent events for jobs.
 * Everything is same-origin; the session cookie that the first address set goes along by itself.
 */
export function browserApi(): HubtrueApi {
  const listeners = new Set<(event: JobEvent) => void>();
  let stream: EventSource | null = null;

  function events(): EventSource {
    if (stream !== null) return stream;
    stream = new EventSource('/api/events');
    stream.addEventListener('job', (message) => {
      const event = JSON.parse(message.data) as JobEvent;
      for (const listener of listeners) listener(event);
    });
    return stream;
  }

  /** A job must not end before this page listens. */
  function listening(): Promise<void> {
    const source = events();
    if (source.readyState === EventSource.OPEN) return Promise.resolve();
    return new Promise((resolve) => {
      source.addEventListener('open', () => resolve(), { once: true });
      source.addEventListener('error', () => resolve(), { once: true });
    });
  }

  async function upload(file: File): Promise<Outcome<OpenedFile>> {
    const address = `/api/upload?name=${encodeURIComponent(file.name)}`;
    return send(address, file, 'application/octet-stream');
  }

  async function uploadAll(files: readonly File[]): Promise<Outcome<readonly OpenedFile[]>> {
    const outcomes = await Promise.all(files.map(upload));
    const opened = outcomes.flatMap((outcome) => (outcome.ok ? [outcome.value] : []));
    const problems = outcomes.flatMap((outcome) => (outcome.ok ? [] : outcome.problems));
    return problems.length > 0 ? { ok: false, problems } : { ok: true, value: opened };
  }

  return {
    facts: () => call<HostFacts>('facts', {}),
    openSample: (id) => call<readonly OpenedFile[]>('open-sample', { id }),
    chooseFiles: async () => uploadAll(await pickFiles()),
    openDropped: (files) => uploadAll(files.filter((file): file is File => file instanceof File)),
    previewPoints: (request) => call('preview-points', request),
    checkPlan: (request) => call('check-plan', request),
    planText: (request) => call('plan-text', request),
    openText: (request) => call('open-text', request),
    savePlan: ({ name, text }) => {
      download(name, text, 'application/json');
      return Promise.resolve({ ok: true, value: { saved: name } });
    },
    reduce: async (request) => {
      await listening();
      return call<{ readonly job: string }>('reduce', request);
    },
    cancel: (job) => call<null>('cancel', { job }),
    featurePoints: (request) => call('feature-points', request),
    discPoints: (request) => call('disc-points', request),
    saveSession: (request) => callForFile('save-session', request),
    openSession: (request) => call('open-session', request),
    matchSessionFile: (request) => call('match-session-file', request),
    autosave: (request) => call('autosave', request),
    endSession: (session, keep = false) => call('end-session', { session, keep }, true),
    recent: () => call('recent', {}),
    forgetRecent: (ticket) => call('forget-recent', { ticket }),
    recover: () => call('recover', {}),
    discardRecovery: (ticket) => call('discard-recovery', { ticket }),
    saveOutput: (request) => callForFile('save-output', request),
    previewReport: (request) => call('preview-report', request),
    // A browser has no menu of ours and opens no files by itself.
    onCommand: () => () => {},
    onOpened: () => () => {},
    onJob: (listener) => {
      events();
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** @param keepalive for a call that may outlive the page */
function call<T>(name: string, argument: unknown, keepalive = false): Promise<Outcome<T>> {
  return send(`/api/${name}`, JSON.stringify(argument), 'application/json', keepalive);
}

/** A call whose answer may carry a file for the person beside its value. */
async function callForFile<T>(name: string, argument: unknown): Promise<Outcome<T>> {
  const answer: Outcome<T> & { readonly download?: Download } = await call(name, argument);
  if (answer.download !== undefined) {
    const { name: fileName, type, base64 } = answer.download;
    downloadBytes(
      fileName,
      Uint8Array.from(atob(base64), (c) => c.charCodeAt(0)),
      type,
    );
  }
  return answer;
}

async function send<T>(
  address: string,
  body: BodyInit,
  type: string,
  keepalive = false,
): Promise<Outcome<T>> {
  try {
    const headers = { 'Content-Type': type };
    const response = await fetch(address, { method: 'POST', body, headers, keepalive });
    return (await response.json()) as Outcome<T>;
  } catch {
    return {
      ok: false,
      problems: [
        {
          code: 'host-unreachable',
          message: 'The program behind this page does not answer.',
          remedy: 'Start it again with “npm start” and open the address that it prints.',
        },
      ],
    };
  }
}

/** Opens the browser's file picker; an empty list when the person cancels. */
function pickFiles(): Promise<readonly File[]> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.multiple = true;
    input.accept = '.csv,.txt,.tsv,.json,.hubtrue';
    const end = (files: readonly File[]): void => {
      input.remove();
      resolve(files);
    };
    input.addEventListener('change', () => end([...(input.files ?? [])]), { once: true });
    input.addEventListener('cancel', () => end([]), { once: true });
    // In the document nothing collects it while the picker is open.
    input.hidden = true;
    document.body.append(input);
    input.click();
  });
}
