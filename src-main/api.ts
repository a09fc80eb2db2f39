/**
 * What the renderer may ask of the main floor, as types: the single contract between the floors.
 * Both hosts (desktop window, loopback browser) serve exactly this; nothing else is imported across.
 */
import type { ResultDocument } from '../shared-math/result.ts';

/** An error as a value: where it is, what was found, what was expected, what to do. */
export interface Problem {
  /** Stable word for the kind of fault, e.g. `not-a-number`, `unknown-key`, `open-freedom`. */
  readonly code: string;
  /** One complete sentence for people; already names the place. */
  readonly message: string;
  readonly file?: string;
  readonly line?: number;
  /** Column name, or its number (from 1) where the file has no header. */
  readonly column?: string;
  /** Path inside a plan, e.g. `disc.datums[1].side`. */
  readonly path?: string;
  /** The value found, shortened. */
  readonly value?: string;
  readonly expected?: string;
  readonly remedy?: string;
}

export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export interface HostFacts {
  readonly host: 'desktop' | 'browser';
  readonly version: string;
  readonly samples: readonly SampleDisc[];
}

export interface SampleDisc {
  /** Folder-free identifier. */
  readonly id: string;
  readonly title: string;
  readonly description: string;
}

export type FileRole = 'points' | 'plan' | 'welds';

/** A file that the person opened, dropped or chose. The path stays on the main floor; the page holds the ticket only. */
export interface OpenedFile {
  readonly ticket: string;
  readonly name: string;
  readonly bytes: number;
  readonly role: FileRole;
}

export interface ReductionRequest {
  readonly points: string;
  readonly plan: string;
  readonly welds?: string;
}

export interface Progress {
  readonly stage: 'reading' | 'hub' | 'blades' | 'done';
  /** 0 … 1 over the whole job. */
  readonly fraction: number;
  /** e.g. `Station 7 of 18`. */
  readonly note: string;
}

/** How the point file was understood, for the person to confirm. */
export interface ImportSummary {
  readonly encoding: string;
  readonly delimiter: string;
  readonly decimal: '.' | ',';
  readonly unit: 'mm' | 'inch' | 'µm';
  readonly header: boolean;
  /** Role → header name or column number. */
  readonly columns: Readonly<Record<string, string>>;
  readonly label: string | null;
  /** Which of the above came from the plan; the rest was detected. */
  readonly fromPlan: readonly string[];
  /** One sentence for people. */
  readonly sentence: string;
}

export interface WeldRow {
  readonly station: number;
  readonly sequence: number;
  readonly tool: string;
  readonly date: string;
  readonly values: Readonly<Record<string, number>>;
}

/** Facts of the plan that views show beside the result. */
export interface PlanSummary {
  readonly title: string;
  readonly part: Readonly<Record<string, string>>;
  readonly inspection: Readonly<Record<string, string>>;
  readonly pose: 'datum' | 'bestfit';
  readonly sense: 'counterclockwise' | 'clockwise';
  readonly stations: readonly { readonly station: number; readonly angle: number }[];
  readonly tolerance: number;
  readonly zone: 'cylindrical' | 'spherical' | 'planar';
  /** Limits on |value| (mm, rad) of the blade block; `overrides` may differ by station and show in the result. */
  readonly limits: Readonly<Record<string, number>>;
  /** Datum letters in order of precedence, e.g. `A HUB-FACE (plane)`. */
  readonly hubDatums: readonly string[];
  readonly bladeDatums: readonly string[];
}

/** All that a finished job hands to the views. */
export interface ReducedDisc {
  readonly result: ResultDocument;
  readonly plan: PlanSummary;
  readonly import: ImportSummary;
  readonly welds: readonly WeldRow[] | null;
  readonly warnings: readonly string[];
}

export type JobEvent =
  | { readonly job: string; readonly kind: 'progress'; readonly progress: Progress }
  | { readonly job: string; readonly kind: 'finished'; readonly disc: ReducedDisc }
  | { readonly job: string; readonly kind: 'refused'; readonly problems: readonly Problem[] }
  | { readonly job: string; readonly kind: 'cancelled' };

export interface HubtrueApi {
  facts(): Promise<Outcome<HostFacts>>;
  /** Tickets for the files of a sample disc. */
  openSample(id: string): Promise<Outcome<readonly OpenedFile[]>>;
  /** Ask for files: native dialog on the desktop, file picker in the browser. An empty list means cancelled. */
  chooseFiles(): Promise<Outcome<readonly OpenedFile[]>>;
  /** Files dropped on the window; `File` objects of the page, typed loosely so that this floor needs no DOM. */
  openDropped(
    files: readonly { readonly name: string; readonly size: number }[],
  ): Promise<Outcome<readonly OpenedFile[]>>;
  /** Starts a reduction; its events come to `onJob` listeners. */
  reduce(request: ReductionRequest): Promise<Outcome<{ readonly job: string }>>;
  cancel(job: string): Promise<Outcome<null>>;
  /** Returns the function that stops listening. */
  onJob(listener: (event: JobEvent) => void): () => void;
}
