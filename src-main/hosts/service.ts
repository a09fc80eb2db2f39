/**
 * The service behind `src-main/api.ts`, free of any host: tickets, samples, jobs. Hosts carry requests to it and
 * events from it. Whatever comes from a page is checked here, and every fault is a value.
 */
import { statSync } from 'node:fs';
import { basename } from 'node:path';
import type {
  DiscPoints,
  FeaturePoints,
  FileRole,
  HostFacts,
  JobEvent,
  OpenedFile,
  Outcome,
  PointsPreview,
  Problem,
} from '../api.ts';
import type { ReductionInput, ReductionPaths } from '../jobs/run-reduction.ts';
import type { PreviewOptions } from '../points/preview.ts';
import { describe, RefusedInput } from '../problems.ts';
import type { Report, ReportInput } from '../report/index.ts';
import { defaultStateFolder } from '../session/state-folder.ts';
import { softwareVersion } from '../software.ts';
import { roleOfFile } from './file-role.ts';
import { createFinishedJobs } from './finished-jobs.ts';
import { createOutputService, type OutputRequests } from './output-service.ts';
import { createPlanService, type PlanRequests } from './plan-service.ts';
import { createPrivateFiles } from './private-files.ts';
import { checked, requests } from './requests.ts';
import { presentSamples, samplePaths, samplePathsByRole } from './samples.ts';
import { createSessionService, type SessionRequests } from './sessions/session-service.ts';
import { createTicketTable, type TicketEntry } from './tickets.ts';

/** The part of src-main/jobs that the service needs; tests give their own. */
export interface Jobs {
  start(input: ReductionInput, listener: (event: JobEvent) => void): string;
  cancel(job: string): void;
  featurePoints(
    job: string,
    station: number | null,
    feature: string,
    most?: number,
  ): Promise<Outcome<FeaturePoints>>;
  discPoints(job: string, most?: number): Promise<Outcome<DiscPoints>>;
  preview(path: string, options: PreviewOptions): Promise<Outcome<PointsPreview>>;
  warmUp(discs: readonly ReductionPaths[]): void;
  report(input: ReportInput): Promise<Outcome<Report>>;
  reportHtml(input: ReportInput): Promise<Outcome<string>>;
  close(): unknown;
}

export interface ServiceOptions {
  readonly host: HostFacts['host'];
  readonly samplesFolder: string;
  readonly jobs: Jobs;
  /** The account's own folder for autosaves and the list of recent sessions. */
  readonly stateFolder?: string;
  /** The clock; tests give their own. */
  readonly now?: () => Date;
}

export interface Service extends PlanRequests, SessionRequests, OutputRequests {
  /** For hosts only: somebody has opened a window and may soon bring a disc. */
  expectWork(): void;
  facts(argument: unknown): Outcome<HostFacts>;
  openSample(argument: unknown): Outcome<readonly OpenedFile[]>;
  /**
   * For hosts only: paths come from a dialog, a drop or an upload, never from the page's own words. `temporary` ones go
   * when the program ends.
   */
  openPaths(paths: unknown, temporary?: boolean): Outcome<readonly OpenedFile[]>;
  reduce(argument: unknown): Outcome<{ readonly job: string }>;
  cancel(argument: unknown): Outcome<null>;
  featurePoints(argument: unknown): Promise<Outcome<FeaturePoints>>;
  discPoints(argument: unknown): Promise<Outcome<DiscPoints>>;
  onJob(listener: (event: JobEvent) => void): () => void;
  close(): Promise<void>;
}

export function createService(options: ServiceOptions): Service {
  const { host, samplesFolder, jobs, now = () => new Date() } = options;
  const tickets = createTicketTable();
  const listeners = new Set<(event: JobEvent) => void>();
  const running = new Map<string, ReductionInput>();
  const finished = createFinishedJobs();
  const files = createPrivateFiles();

  function relay(event: JobEvent): void {
    const input = running.get(event.job);
    // A trial is looked at and never passed on: no session, report or file is made of it.
    if (event.kind === 'finished' && input !== undefined && input.diagnose !== false)
      finished.add(event.job, {
        disc: event.disc,
        exclusions: input.exclusions ?? [],
        excludedFeatures: input.excludedFeatures ?? [],
        welds: input.weldsPath === undefined ? null : { path: input.weldsPath },
      });
    if (event.kind !== 'progress') running.delete(event.job);
    for (const listener of listeners) listener(event);
  }

  function openPaths(paths: unknown, temporary = false): Outcome<readonly OpenedFile[]> {
    const asked = checked(requests.openPaths, paths);
    if (!asked.ok) return asked;
    const opened: OpenedFile[] = [];
    const problems: Problem[] = [];
    for (const path of asked.value) {
      const outcome = openOne(path, temporary);
      if (outcome.ok) opened.push(outcome.value);
      else problems.push(...outcome.problems);
    }
    return problems.length > 0 ? { ok: false, problems } : { ok: true, value: opened };
  }

  function openOne(path: string, temporary: boolean): Outcome<OpenedFile> {
    const name = basename(path);
    try {
      const facts = statSync(path);
      if (!facts.isFile())
        return refusal(
          'not-a-file',
          name,
          'this is not a file',
          'a CSV or JSON file',
          'open the file itself',
        );
      if (facts.size === 0)
        return refusal(
          'empty-file',
          name,
          'the file is empty',
          'points, plan or weld order as text',
          'export it again and look at its size',
        );
      const role = roleOfFile(path, name);
      const ticket = tickets.issue({ path, name, role, temporary });
      return { ok: true, value: { ticket, name, bytes: facts.size, role } };
    } catch (error) {
      if (error instanceof RefusedInput) return { ok: false, problems: error.problems };
      const code = (error as NodeJS.ErrnoException).code ?? 'unknown reason';
      return refusal(
        'file-unreadable',
        name,
        `the file cannot be read (${code})`,
        'a file that this account may read',
        'check its place and permissions, or copy it to a folder of your own',
      );
    }
  }

  function ticketOf(ticket: string, role: FileRole): Outcome<TicketEntry> {
    const entry = tickets.find(ticket);
    if (entry === null || entry.role !== role)
      return refusal(
        'unknown-ticket',
        undefined,
        `the ${role} file is not open any more`,
        'a file opened in this window',
        'open it again',
      );
    return { ok: true, value: entry };
  }

  const { close: forgetTexts, ...planRequests } = createPlanService({
    ticketOf,
    open: (path) => openOne(path, true),
    preview: jobs.preview,
  });
  const stateFolder = options.stateFolder ?? defaultStateFolder();
  const sessionRequests = createSessionService({ tickets, ticketOf, finished, files, stateFolder, now });
  const outputRequests = createOutputService({
    finished,
    now,
    report: jobs.report,
    reportHtml: jobs.reportHtml,
  });

  return {
    ...planRequests,
    ...sessionRequests,
    ...outputRequests,

    expectWork() {
      jobs.warmUp(presentSamples(samplesFolder).map(({ id }) => samplePathsByRole(samplesFolder, id)));
    },

    facts(argument) {
      const asked = checked(requests.facts, argument);
      if (!asked.ok) return asked;
      return { ok: true, value: { host, version: softwareVersion, samples: presentSamples(samplesFolder) } };
    },

    openSample(argument) {
      const asked = checked(requests.openSample, argument);
      if (!asked.ok) return asked;
      // Only names of the catalogue become paths.
      const sample = presentSamples(samplesFolder).find((entry) => entry.id === asked.value.id);
      if (sample === undefined)
        return refusal(
          'unknown-sample',
          undefined,
          'there is no such sample disc',
          presentSamples(samplesFolder)
            .map((entry) => entry.id)
            .join(', ') || 'a sample disc of this program',
          'choose one of the sample discs shown',
          asked.value.id,
        );
      return openPaths(samplePaths(samplesFolder, sample.id));
    },

    openPaths,

    reduce(argument) {
      const asked = checked(requests.reduce, argument);
      if (!asked.ok) return asked;
      const points = ticketOf(asked.value.points, 'points');
      if (!points.ok) return points;
      const plan = ticketOf(asked.value.plan, 'plan');
      if (!plan.ok) return plan;
      let welds: TicketEntry | null = null;
      if (asked.value.welds !== undefined) {
        const found = ticketOf(asked.value.welds, 'welds');
        if (!found.ok) return found;
        welds = found.value;
      }
      const { exclusions, excludedFeatures, diagnose } = asked.value;
      const input: ReductionInput = {
        pointsPath: points.value.path,
        planPath: plan.value.path,
        ...(welds === null ? {} : { weldsPath: welds.path }),
        exclusions,
        excludedFeatures,
        diagnose,
      };
      const job = jobs.start(input, relay);
      running.set(job, input);
      return { ok: true, value: { job } };
    },

    cancel(argument) {
      const asked = checked(requests.cancel, argument);
      if (!asked.ok) return asked;
      // A job that has ended meanwhile is no fault of the person who cancels it.
      if (running.has(asked.value.job)) jobs.cancel(asked.value.job);
      return { ok: true, value: null };
    },

    async featurePoints(argument) {
      const asked = checked(requests.featurePoints, argument);
      if (!asked.ok) return asked;
      const { job, station, feature, most } = asked.value;
      return jobs.featurePoints(job, station, feature, most);
    },

    async discPoints(argument) {
      const asked = checked(requests.discPoints, argument);
      if (!asked.ok) return asked;
      return jobs.discPoints(asked.value.job, asked.value.most);
    },

    onJob(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },

    async close() {
      listeners.clear();
      forgetTexts();
      files.close();
      await jobs.close();
    },
  };
}

function refusal(
  code: string,
  file: string | undefined,
  says: string,
  expected: string,
  remedy: string,
  value?: string,
): { readonly ok: false; readonly problems: readonly Problem[] } {
  return { ok: false, problems: [describe({ code, file, says, expected, remedy, value })] };
}
