import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';
import { licenceNotices } from './src-main/packaging/notices.ts';

const path = (relative: string): string => fileURLToPath(new URL(relative, import.meta.url));

export default defineConfig({
  main: {
    plugins: [licenceNotices('main')],
    // The archive packer's entry for Node declares a `require` of its own, which meets the one that the build adds; its
    // entry for browsers packs the same and needs no worker for what is used here.
    resolve: { alias: [{ find: /^fflate$/, replacement: path('node_modules/fflate/esm/browser.js') }] },
    build: {
      // Everything but the desktop window runs on plain Node as well.
      target: 'node20.19',
      outDir: path('out/main'),
      // One file starts faster than many, and unused parts of libraries stay out.
      externalizeDeps: false,
      rolldownOptions: {
        input: {
          desktop: path('src-main/hosts/desktop/main.ts'),
          browser: path('src-main/hosts/browser/main.ts'),
          start: path('src-main/hosts/start.ts'),
          terminal: path('src-main/hosts/terminal/terminal.ts'),
          worker: path('src-main/jobs/worker.ts'),
        },
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'chunks/[name]-[hash].js' },
      },
    },
  },
  preload: {
    build: {
      // A sandboxed window loads its preload as CommonJS, in one file.
      outDir: path('out/preload'),
      externalizeDeps: false,
      rolldownOptions: {
        input: path('src-main/hosts/desktop/preload.ts'),
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: path('src-renderer'),
    plugins: [react(), licenceNotices('window')],
    // Parts of the plot library are written for bundlers that know Node's name of the global object.
    define: { global: 'globalThis' },
    build: {
      // The window is Electron's Chromium; the loopback host serves any current browser.
      target: 'es2022',
      outDir: path('out/renderer'),
      minify: true,
      // The plots are the bulk of it, are loaded from the disk and are needed at once.
      chunkSizeWarningLimit: 2000,
      rolldownOptions: { input: path('src-renderer/index.html') },
    },
  },
});
