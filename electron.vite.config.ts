import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

const path = (relative: string): string => fileURLToPath(new URL(relative, import.meta.url));

/** Entries whose source exists. */
const present = (entries: Record<string, string>): Record<string, string> =>
  Object.fromEntries(Object.entries(entries).filter(([, file]) => existsSync(file)));

const preload = present({ preload: path('src-main/hosts/desktop/preload.ts') });

export default defineConfig({
  main: {
    build: {
      // Everything but the desktop window runs on plain Node as well.
      target: 'node20.19',
      // One file starts faster than many, and unused parts of libraries stay out.
      externalizeDeps: false,
      outDir: path('out/main'),
      rolldownOptions: {
        input: present({
          desktop: path('src-main/hosts/desktop/main.ts'),
          browser: path('src-main/hosts/browser/main.ts'),
          start: path('src-main/hosts/start.ts'),
          terminal: path('src-main/hosts/terminal/terminal.ts'),
          worker: path('src-main/jobs/worker.ts'),
        }),
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
      },
    },
  },
  ...(Object.keys(preload).length > 0
    ? {
        preload: {
          build: {
            // A sandboxed window loads its preload as CommonJS, in one file.
            outDir: path('out/preload'),
            externalizeDeps: false,
            rolldownOptions: {
              input: preload,
              output: { format: 'cjs' as const, entryFileNames: '[name].cjs' },
            },
          },
        },
      }
    : {}),
  ...(existsSync(path('src-renderer/index.html'))
    ? {
        renderer: {
          root: path('src-renderer'),
          plugins: [react()],
          // Parts of the plot library are written for bundlers that know Node's name of the global object.
          define: { global: 'globalThis' },
          build: {
            // The window is Electron's Chromium; the loopback host serves any current browser.
            target: 'es2022',
            outDir: path('out/renderer'),
            minify: true,
            rolldownOptions: { input: path('src-renderer/index.html') },
          },
        },
      }
    : {}),
});
