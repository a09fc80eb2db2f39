/** What the end-to-end tests of the window share: one host and one Chromium for a test file, a fresh page for a test. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import {
  discShown,
  launchChromium,
  type RunningHost,
  startBuiltHost,
  type WatchedPage,
  watchedPage,
  withSample,
} from './window.ts';

export interface WindowSession {
  readonly page: Page;
  readonly address: string;
  /** A folder for files that a test makes. */
  readonly folder: string;
  openSample(sample: string): Promise<void>;
  row(station: number): Locator;
  /** Number of the selected station, as the table shows it. */
  currentStation(): Promise<string | null>;
  /** Numbers of a column of the table, from top to bottom. */
  cells(quantity: string): Promise<number[]>;
  /** Answers the file picker that the page opens. */
  give(...paths: string[]): Promise<void>;
  /** Drops a file on the window as a person would, through the page's own drop events. */
  drop(name: string, content: string): Promise<void>;
}

/** To be called once at the top of a test file: it registers what must be done before and after each test. */
export function windowSession(): WindowSession {
  let host: RunningHost;
  let browser: Browser;
  let watched: WatchedPage;
  let folder = '';

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
    [host, browser] = await Promise.all([startBuiltHost(), launchChromium()]);
  });
  afterAll(async () => {
    await browser?.close();
    await host?.stop();
    rmSync(folder, { recursive: true, force: true });
  });
  beforeEach(async () => {
    watched = await watchedPage(browser);
  });
  // Every path through the window must be silent on the console and stay on this machine.
  afterEach(async () => {
    await watched.page.context().close();
    expect(watched.complaints).toEqual([]);
    for (const name of watched.hosts) expect(['127.0.0.1', 'blob:', 'data:']).toContain(name);
  });

  return {
    get page() {
      return watched.page;
    },
    get address() {
      return host.address;
    },
    get folder() {
      return folder;
    },
    async openSample(sample) {
      await watched.page.goto(withSample(host.address, sample));
      await discShown(watched.page);
    },
    row: (station) => watched.page.locator(`tr[data-station="${station}"]`),
    currentStation: () => watched.page.locator('tr[aria-current="true"]').getAttribute('data-station'),
    async cells(quantity) {
      const texts = await watched.page.locator(`tbody td[data-quantity="${quantity}"]`).allInnerTexts();
      return texts.map(numberShown);
    },
    async give(...paths) {
      const [chooser] = await Promise.all([
        watched.page.waitForEvent('filechooser'),
        watched.page.getByTestId('choose-files').click(),
      ]);
      await chooser.setFiles(paths);
    },
    async drop(name, content) {
      const { page } = watched;
      const transfer = await page.evaluateHandle(
        ([fileName, text]) => {
          const data = new DataTransfer();
          data.items.add(new File([text ?? ''], fileName ?? ''));
          return data;
        },
        [name, content],
      );
      await page.dispatchEvent('.stage', 'dragenter', { dataTransfer: transfer });
      await page.locator('.drop-veil').waitFor();
      await page.dispatchEvent('.stage', 'drop', { dataTransfer: transfer });
    },
  };
}

/** A number as the window writes it: true minus, thin spaces, perhaps a sign for "over the limit" behind it. */
function numberShown(text: string): number {
  return Number(
    text
      .replace('−', '-')
      .replaceAll('\u202f', '')
      .replace(/[^\d.+-].*$/s, ''),
  );
}

// biome-ignore lint/performance/useDomNodeTextContent: what a person sees is wanted, and this is no DOM node.
export const shownText = (part: Locator): Promise<string> => part.innerText();
