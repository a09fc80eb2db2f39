/** The real window for end-to-end tests: the built browser host as a process, and a page of Chromium on it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { chromiumArguments, chromiumProgram } from './chromium.ts';

const project = fileURLToPath(new URL('../../', import.meta.url));

export interface RunningHost {
  /** Address with the token, as the program printed it. */
  readonly address: string;
  stop(): Promise<void>;
  /** Ends it at once, in the middle of whatever it does. */
  kill(): Promise<void>;
}

export interface HostOptions {
  /** Folder for autosaves and lists, which then outlives the host; else one of its own that goes with it. */
  readonly state?: string;
  /** No file may grow beyond this, as if the disk were full: the system refuses the rest of a write. */
  readonly mostKibibytes?: number;
}

/** Folder of the build under test; the variable is for work on two versions at once. */
const build = process.env['HUBTRUE_BUILD'] ?? `${project}out`;

/** Starts `out/main/browser.js` and waits for the address that it prints. */
export async function startBuiltHost({ state, mostKibibytes }: HostOptions = {}): Promise<RunningHost> {
  const entry = `${build}/main/browser.js`;
  if (!existsSync(entry)) throw new Error('out/main/browser.js is missing: run `npm run build` first.');
  // Autosaves and the list of recent sessions of a test are nobody's but its own.
  const folder = state ?? mkdtempSync(join(tmpdir(), 'hubtrue-state-'));
  const command =
    mostKibibytes === undefined
      ? [process.execPath, entry]
      : ['bash', '-c', `ulimit -f ${mostKibibytes}; exec "$0" "$1"`, process.execPath, entry];
  const child = spawn(command[0] as string, command.slice(1), {
    cwd: project,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, HUBTRUE_STATE: folder },
  });
  const end = async (signal: NodeJS.Signals): Promise<void> => {
    await stopped(child, signal);
    if (state === undefined) rmSync(folder, { recursive: true, force: true });
  };
  return {
    address: await printedAddress(child),
    stop: () => end('SIGTERM'),
    kill: () => end('SIGKILL'),
  };
}

function printedAddress(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let printed = '';
    const hear = (chunk: Buffer): void => {
      printed += chunk.toString();
      const address = /http:\/\/127\.0\.0\.1:\d+\/\S*/.exec(printed)?.[0];
      if (address !== undefined) resolve(address);
    };
    child.stdout?.on('data', hear);
    child.stderr?.on('data', hear);
    child.on('exit', (code) => reject(new Error(`The browser host ended with status ${code}:\n${printed}`)));
  });
}

function stopped(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  return new Promise((resolve) => {
    child.on('exit', () => resolve());
    child.kill(signal);
  });
}

export function launchChromium(): Promise<Browser> {
  return chromium.launch({ executablePath: chromiumProgram(), args: [...chromiumArguments] });
}

export interface WatchedPage {
  readonly page: Page;
  /** Errors and warnings of the console, exceptions, refused policies. */
  readonly complaints: readonly string[];
  /** Hosts of all requests, `blob:` and `data:` ones by their scheme. */
  readonly hosts: ReadonlySet<string>;
}

export interface PageOptions {
  readonly width?: number;
  readonly height?: number;
  readonly colours?: 'light' | 'dark';
}

/** What Chromium says of the speed of drawings in three dimensions where no graphics card draws them. */
function isSpeedHint(text: string): boolean {
  return /GL Driver Message \(OpenGL, Performance|^Canvas2D: Multiple readback operations/.test(text);
}

/** A fresh page, with its own storage, that notes what it complains about and whom it speaks to. */
export async function watchedPage(browser: Browser, options: PageOptions = {}): Promise<WatchedPage> {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1280, height: options.height ?? 800 },
    colorScheme: options.colours ?? 'light',
    reducedMotion: 'reduce',
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  const hosts = new Set<string>();
  page.on('console', (message) => {
    if (message.type() !== 'error' && message.type() !== 'warning') return;
    if (!isSpeedHint(message.text())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  // File pickers are kept from opening from the start: asked for only when a key is on its way, that may come too late.
  page.on('filechooser', () => {});
  page.on('request', (request) => {
    const url = new URL(request.url());
    hosts.add(url.hostname === '' ? url.protocol : url.hostname);
  });
  return { page, complaints, hosts };
}

/** Address of the host with a sample disc to open at once. */
export function withSample(address: string, sample: string): string {
  const url = new URL(address);
  url.searchParams.set('sample', sample);
  return url.href;
}

/** Waits until a disc is on view and its map is drawn; fails with the problems that the window lists instead. */
export async function discShown(page: Page): Promise<void> {
  await page.locator('.disc-view, .problems').first().waitFor();
  const problems = page.locator('.problems');
  if ((await problems.count()) > 0)
    throw new Error(`The window lists problems:\n${await problems.textContent()}`);
  await page.locator('.dial .polar').waitFor();
  // The map comes first, then table and card; causes are looked for behind them.
  await page.locator('.station-table table').waitFor();
  await page.locator('.progress').waitFor({ state: 'detached' });
}
