/** Starts the browser host and keeps it until the terminal asks to stop. */

import { fileURLToPath } from 'node:url';
import { createReductionJobs } from '../../jobs/reduction-jobs.ts';
import { createService } from '../service.ts';
import { openBrowser } from './open-browser.ts';
import { startBrowserHost } from './server.ts';

export interface Places {
  /** Built page. */
  readonly pageFolder: string;
  readonly samplesFolder: string;
  readonly workerUrl: URL;
}

/** Places relative to a built entry in out/main. */
export function placesFrom(entry: string): Places {
  return {
    pageFolder: fileURLToPath(new URL('../renderer/', entry)),
    samplesFolder: fileURLToPath(new URL('../../sample-data/', entry)),
    workerUrl: new URL('./worker.js', entry),
  };
}

export async function runBrowserHost(places: Places, sample: string | null, open: boolean): Promise<void> {
  const service = createService({
    host: 'browser',
    samplesFolder: places.samplesFolder,
    jobs: createReductionJobs({ workerUrl: places.workerUrl }),
  });
  const host = await startBrowserHost({ service, pageFolder: places.pageFolder });
  const address = host.address(sample === null ? {} : { sample });
  console.log(`Hubtrue is served on this machine only. Open:\n\n  ${address}\n\nPress Ctrl+C to stop.`);
  if (open) openBrowser(address);
  let closing = false;
  const stop = (): void => {
    if (closing) return;
    closing = true;
    void host.close().then(() => process.exit(0));
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
  process.on('SIGHUP', stop);
}
