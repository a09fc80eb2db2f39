import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { type BrowserWindow, dialog } from 'electron';
import type { Outcome } from '../../api.ts';
import { describe } from '../../problems.ts';
import { checked, requests } from '../requests.ts';

/** Asks where to, and writes the plan there whole or not at all. */
export async function savePlan(
  window: BrowserWindow | null,
  argument: unknown,
): Promise<Outcome<{ readonly saved: string | null }>> {
  const asked = checked(requests.savePlan, argument);
  if (!asked.ok) return asked;
  if (window === null) return { ok: true, value: { saved: null } };
  const { name, text } = asked.value;
  const { canceled, filePath } = await dialog.showSaveDialog(window, {
    title: 'Save the plan',
    defaultPath: name,
    filters: [{ name: 'Plan', extensions: ['json'] }],
  });
  if (canceled || filePath === '') return { ok: true, value: { saved: null } };
  const unfinished = `${filePath}.${process.pid}.part`;
  try {
    writeFileSync(unfinished, text, { flag: 'wx' });
    renameSync(unfinished, filePath);
    return { ok: true, value: { saved: basename(filePath) } };
  } catch (error) {
    rmSync(unfinished, { force: true });
    const code = (error as NodeJS.ErrnoException).code ?? 'unknown reason';
    return {
      ok: false,
      problems: [
        describe({
          code: 'cannot-save',
          file: basename(filePath),
          says: `the plan cannot be written there (${code})`,
          remedy: 'choose another folder',
        }),
      ],
    };
  }
}
