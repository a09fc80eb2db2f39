/**
 * A module of the product bundled by the builder that makes the product. Run through tsx, every small function would carry
 * a wrapper that keeps its name, which takes a share of the time.
 */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'vite';

/** @param path of the module from the root of the repository. */
export async function asShipped<Module>(path: string): Promise<Module> {
  const folder = mkdtempSync(join(tmpdir(), 'hubtrue-build-'));
  try {
    await build({
      configFile: false,
      logLevel: 'silent',
      build: {
        ssr: fileURLToPath(new URL(`../../${path}`, import.meta.url)),
        target: 'node20.19',
        outDir: folder,
        rolldownOptions: { output: { entryFileNames: 'module.mjs' } },
      },
      ssr: { noExternal: true },
    });
    if (!readdirSync(folder).includes('module.mjs')) throw new Error(`${path} was not built.`);
    return (await import(pathToFileURL(join(folder, 'module.mjs')).href)) as Module;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
