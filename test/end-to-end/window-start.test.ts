import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const start = fileURLToPath(new URL('../../out/main/start.js', import.meta.url));

// A session without a display is easily made on Linux only; elsewhere this would open a real window.
test.runIf(process.platform === 'linux')(
  'without a desktop window, `npm start` says why and serves the sample disc',
  async () => {
    const { DISPLAY: _display, WAYLAND_DISPLAY: _wayland, ...environment } = process.env;
    const child = spawn(process.execPath, [start, '--no-open'], { env: environment });
    let printed = '';
    child.stdout.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
    });
    const ended = new Promise<number | null>((resolve) => child.on('exit', (code) => resolve(code)));
    try {
      await expect.poll(() => printed, { timeout: 20_000 }).toMatch(/http:\/\/\S+/);
      expect(printed).toMatch(/The desktop window cannot open: .+\./);
      const address = new URL(/http:\/\/\S+/.exec(printed)?.[0] ?? '');
      expect(address.hostname).toBe('127.0.0.1');
      expect(address.searchParams.get('sample')).toBe('off-centre');
      expect((await fetch(address, { redirect: 'manual' })).status).toBe(303);
    } finally {
      child.kill('SIGTERM');
    }
    expect(await ended).toBe(0);
  },
);
