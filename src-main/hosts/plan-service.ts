/** Requests around the making of a plan: looking through points, checking a plan, texts that the window made. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FileRole, OpenedFile, Outcome, PointsPreview, Problem } from '../api.ts';
import { planProblems } from '../plan/check-plan.ts';
import type { PreviewOptions } from '../points/preview.ts';
import { RefusedInput } from '../problems.ts';
import { decodeText } from '../text-encoding.ts';
import { checked, requests } from './requests.ts';
import type { TicketEntry } from './tickets.ts';

export interface PlanRequests {
  previewPoints(argument: unknown): Promise<Outcome<PointsPreview>>;
  checkPlan(argument: unknown): Outcome<readonly Problem[]>;
  planText(argument: unknown): Outcome<{ readonly name: string; readonly text: string }>;
  openText(argument: unknown): Outcome<OpenedFile>;
}

export interface PlanServiceOptions {
  readonly ticketOf: (ticket: string, role: FileRole) => Outcome<TicketEntry>;
  /** Opens a file that the host itself put there. */
  readonly open: (path: string) => Outcome<OpenedFile>;
  /** Looks through a point file, in the background: it may be large. */
  readonly preview: (path: string, options: PreviewOptions) => Promise<Outcome<PointsPreview>>;
}

/** Name of a plan that has not been saved, for messages. */
const UNSAVED = 'plan';

export function createPlanService({
  ticketOf,
  open,
  preview,
}: PlanServiceOptions): PlanRequests & { close(): void } {
  let folder: string | null = null;
  let texts = 0;
  return {
    async previewPoints(argument) {
      const asked = checked(requests.previewPoints, argument);
      if (!asked.ok) return asked;
      const points = ticketOf(asked.value.points, 'points');
      if (!points.ok) return points;
      return preview(points.value.path, { stated: asked.value.import, plan: asked.value.plan });
    },

    checkPlan(argument) {
      const asked = checked(requests.checkPlan, argument);
      return asked.ok ? { ok: true, value: planProblems(asked.value.text, UNSAVED) } : asked;
    },

    planText(argument) {
      const asked = checked(requests.planText, argument);
      if (!asked.ok) return asked;
      const plan = ticketOf(asked.value.plan, 'plan');
      if (!plan.ok) return plan;
      const { name, path } = plan.value;
      try {
        return { ok: true, value: { name, text: decodeText(readFileSync(path), name, 'plan (JSON)') } };
      } catch (error) {
        if (error instanceof RefusedInput) return { ok: false, problems: error.problems };
        throw error;
      }
    },

    openText(argument) {
      const asked = checked(requests.openText, argument);
      if (!asked.ok) return asked;
      const { name, text } = asked.value;
      // Each text has a folder of its own, so that files of one name do not meet.
      folder ??= mkdtempSync(join(tmpdir(), 'hubtrue-texts-'));
      texts += 1;
      const place = join(folder, String(texts));
      mkdirSync(place, { mode: 0o700 });
      const path = join(place, name);
      writeFileSync(path, text, { mode: 0o600 });
      return open(path);
    },

    close() {
      if (folder !== null) rmSync(folder, { recursive: true, force: true });
    },
  };
}
