import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const built = (name: string): string => {
  const path = fileURLToPath(new URL(`../../out/${name}`, import.meta.url));
  if (!existsSync(path)) throw new Error(`out/${name} is missing: run \`npm run build\` first.`);
  return readFileSync(path, 'utf8');
};

test('the preload script is CommonJS in one file and asks for Electron alone: a sandboxed window loads nothing else', () => {
  const text = built('preload/preload.cjs');
  expect([...text.matchAll(/require\(["'`]([^"'`]+)["'`]\)/g)].map((match) => match[1])).toEqual([
    'electron',
  ]);
  expect(text).not.toMatch(/^\s*import\s/m);
  expect(text).not.toContain('ipcRenderer.sendSync');
});

test('the page holds no inline script or style, which its policy would refuse', () => {
  const page = built('renderer/index.html');
  for (const [tag] of page.matchAll(/<script[^>]*>/g)) expect(tag).toContain(' src=');
  expect(page).not.toMatch(/<style|\sstyle=|\son\w+=/);
});

test('only the desktop entry knows Electron', () => {
  expect(built('main/desktop.js')).toMatch(/from ["']electron["']/);
  for (const entry of ['browser', 'start', 'terminal', 'worker'])
    expect(built(`main/${entry}.js`)).not.toMatch(/from ["']electron["']/);
});
