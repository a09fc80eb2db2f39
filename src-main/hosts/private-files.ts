/** Files that the program itself makes for as long as it runs, in a folder that only this account may enter. */
import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface PrivateFiles {
  /** Path of the file written; its last part is the name. */
  write(name: string, content: string | Uint8Array): string;
  bytesOf(path: string): number;
  close(): void;
}

export function createPrivateFiles(): PrivateFiles {
  let folder: string | null = null;
  let count = 0;
  return {
    write(name, content) {
      // Each file has a folder of its own, so that files of one name do not meet.
      folder ??= mkdtempSync(join(tmpdir(), 'hubtrue-files-'));
      count += 1;
      const place = join(folder, String(count));
      mkdirSync(place, { mode: 0o700 });
      const path = join(place, name);
      writeFileSync(path, content, { mode: 0o600 });
      return path;
    },
    bytesOf: (path) => statSync(path).size,
    close() {
      if (folder !== null) rmSync(folder, { recursive: true, force: true });
    },
  };
}
