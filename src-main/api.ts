/**
 * What the renderer may ask of the main floor, as types: the single contract between the floors.
 * Both hosts (desktop window, loopback browser) serve exactly this; nothing else is imported across.
 */
import type { Association, DatumType, FeatureType, PartDefinition } from '../shared-math/definition.ts';
import type { Vec3 } from '../shared-math/geometry/types.ts';
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

export type FileRole = 'points' | 'plan' | 'welds' | 'session';

/** A file that the person opened, dropped or chose. The path stays on the main floor; the page holds the ticket only. */
export interface OpenedFile {
  readonly ticket: string;
  readonly name: string;
  readonly bytes: number;
  readonly role: FileRole;
}

/** A point left out by hand. Every exclusion has a written reason; one without is refused. */
export interface PointExclusion {
  /** Line of the point in its file. */
  readonly line: number;
  readonly reason: string;
}

/** All points of a feature left out by hand. A station whose blade feature is left out is listed as missing. */
export interface FeatureExclusion {
  /** Null: the hub. */
  readonly station: number | null;
  readonly feature: string;
  readonly reason: string;
}

export interface ReductionRequest {
  readonly points: string;
  readonly plan: string;
  readonly welds?: string;
  readonly exclusions?: readonly PointExclusion[];
  readonly excludedFeatures?: readonly FeatureExclusion[];
  /**
   * False for a trial: no causes and corrections are looked for (`diagnosis` is null), which takes most of the time. Its
   * job serves `featurePoints` and `discPoints`; no session, report or file can be made of it.
   */
  readonly diagnose?: boolean;
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

/** A datum as the plan asks for it, everything resolved. */
export interface PlanDatumDetails {
  readonly label: string;
  readonly features: readonly string[];
  readonly type: DatumType;
  readonly association: Association;
  readonly weights: 'equal' | 'sigma';
  /** Whether points that its robust screen flags are left out. */
  readonly screenExcludes: boolean;
}

/** What a report states of the plan beyond the summary; lengths mm, angles degrees. */
export interface PlanDetails {
  readonly hubDatums: readonly PlanDatumDetails[];
  readonly bladeDatums: readonly PlanDatumDetails[];
  readonly seat: {
    readonly radius: number;
    readonly axial: number;
    readonly heightAngle: number;
    readonly staggerAngle: number;
  };
  /** True where the plan lists the angle of every station. */
  readonly explicitAngles: boolean;
  /** Stations with a seat, position or limits of their own. */
  readonly overridden: readonly number[];
  readonly temperature: {
    /** The file already held 20 °C values. */
    readonly applied: boolean;
    /** °C; null: not stated. */
    readonly part: number | null;
    /** 1/K. */
    readonly expansion: number | null;
    readonly uPart: number;
    readonly uExpansion: number;
  } | null;
  readonly uncertainty: {
    /** Standard uncertainty of a point, mm; null: not stated. */
    readonly probing: number | null;
    readonly scale: number;
    readonly formCorrelation: number;
  };
  readonly characteristics: readonly {
    readonly number: string;
    readonly reference: string;
    readonly quantity: string;
    readonly requirement: string;
  }[];
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
  readonly details: PlanDetails;
}

/** All that a finished job hands to the views. */
export interface ReducedDisc {
  readonly result: ResultDocument;
  readonly plan: PlanSummary;
  /** The plan in the units of the mathematics, for what is tried on the result. */
  readonly definition: PartDefinition;
  readonly import: ImportSummary;
  readonly welds: readonly WeldRow[] | null;
  readonly warnings: readonly string[];
}

export type JobEvent =
  | {
      readonly job: string;
      readonly kind: 'progress';
      readonly progress: Progress;
      /** Once: the disc with everything but causes and corrections, which are still being looked for. */
      readonly disc?: ReducedDisc;
    }
  | { readonly job: string; readonly kind: 'finished'; readonly disc: ReducedDisc }
  | { readonly job: string; readonly kind: 'refused'; readonly problems: readonly Problem[] }
  | { readonly job: string; readonly kind: 'cancelled' };

/** Asks for the points of one feature of a finished reduction, or of all its features at once (`discPoints`). */
export interface FeaturePointsRequest {
  readonly job: string;
  /** Null: the hub. */
  readonly station: number | null;
  readonly feature: string;
  /** At most this many points (default 20 000), thinned evenly in file order; extremes and excluded points stay. */
  readonly most?: number;
}

/** Points of one feature against its substitute feature, for residual plots. Arrays run over the points shown. */
export interface FeaturePoints {
  readonly station: number | null;
  readonly feature: string;
  /** Datum letter; of a pattern with the number of the member, e.g. `C.2`. */
  readonly datum: string;
  readonly type: FeatureType;
  /** Points of the feature in the file, excluded ones included; more than are shown where they are thinned. */
  readonly total: number;
  readonly lines: readonly number[];
  /** Surface points (tip radius taken off, at 20 °C) in the disc frame, interleaved x, y, z, mm. */
  readonly xyz: readonly number[];
  /**
   * Distance from the substitute feature, mm. Planes: positive along its direction; faces of a mid-plane: each from its
   * own face, along the direction; round features: positive away from the axis or centre; line and point: unsigned.
   */
  readonly residual: readonly number[];
  /**
   * Place on the feature, interleaved, two numbers a point, from `axes.origin`: the nominal point carried onto the plane, line or
   * axis, the centre of a circle or sphere. Planes: mm along `axes.u` and `axes.v`;
   * lines: mm along the line, 0; circle, cylinder, cone: angle (rad, from u towards v) and height along the axis (mm);
   * sphere: the same angle and the elevation (rad); point: zeros.
   */
  readonly place: readonly number[];
  readonly axes: { readonly origin: Vec3; readonly u: Vec3; readonly v: Vec3; readonly normal: Vec3 };
  readonly excluded: readonly boolean[];
  /** Reason for each excluded line among `lines`. */
  readonly reasons: readonly PointExclusion[];
  /** The feature that the distances refer to, in the disc frame; see `basis`. */
  readonly surface: {
    readonly point: Vec3;
    readonly direction: Vec3 | null;
    readonly radius: number | null;
    readonly halfAngle: number | null;
  };
  /**
   * What the distances refer to: the substitute feature of the `datum` as the result reports it; a fit to the feature's
   * `own` points (members of patterns, stations that were not reduced); or the `nominal` feature, where the points used
   * determine none.
   */
  readonly basis: 'datum' | 'own' | 'nominal';
  /** Over the used points: √(Σd²/n) and peak to valley, mm; null where none is used. */
  readonly rms: number | null;
  readonly form: number | null;
}

/** All features of hub and stations, for the three-dimensional view. */
export interface DiscPoints {
  readonly features: readonly FeaturePoints[];
  /** Points of the file that belong to these features, and those shown. */
  readonly total: number;
  readonly shown: number;
}

export interface SessionNotes {
  /** On the disc as a whole. */
  readonly disc: string;
  readonly stations: readonly { readonly station: number; readonly text: string }[];
}

/** What was left out by hand, and why. */
export interface Exclusions {
  readonly exclusions: readonly PointExclusion[];
  readonly excludedFeatures: readonly FeatureExclusion[];
}

/** What a person has stated in a piece of work. */
export interface SessionStatements extends Exclusions {
  readonly notes: SessionNotes;
}

/** What a session file holds, as the page knows it: files by ticket, the reduction on view by its job. */
export interface SessionContent extends SessionStatements {
  readonly points: string | null;
  readonly plan: string | null;
  readonly welds: string | null;
  /**
   * Reduction on view, or null. Its result is kept only where it was made from exactly these files and exclusions.
   * After opening a session without its points: the `job` of `OpenedSession`.
   */
  readonly job: string | null;
}

export interface SaveSessionRequest {
  readonly content: SessionContent;
  /** Handle of the session at hand; null: a new one. */
  readonly session: string | null;
  /** Ask for a place even where the session has one. The browser always makes a download. */
  readonly saveAs?: boolean;
  /** Proposed file name without ending, for a new session. */
  readonly title?: string;
}

export interface SavedSession {
  /** Handle for the next save. */
  readonly session: string;
  readonly name: string;
  /** ISO 8601, UTC. */
  readonly saved: string;
  /** Whether the result went into the file; false where nothing was reduced, or files or exclusions have changed since. */
  readonly resultKept: boolean;
}

/** A file that a session names. */
export type SessionFile =
  /** Found again; its SHA-256 is the one in the session. */
  | { readonly state: 'found'; readonly file: OpenedFile }
  /** Not found: ask for it and hand it to `matchSessionFile`, or go on with the results only. */
  | { readonly state: 'absent'; readonly name: string; readonly bytes: number; readonly sha256: string }
  /** A file of that name is there, but its content is another. */
  | { readonly state: 'different'; readonly name: string; readonly problem: Problem };

export interface OpenSessionRequest {
  /** Ticket of a file with the role `session`, of a recent session, or of one to recover. */
  readonly ticket: string;
  /** Tickets of files opened together with it, among which the points may be. */
  readonly candidates?: readonly string[];
}

export interface OpenedSession extends SessionStatements {
  readonly session: string;
  /** File name; of a recovered session that was never saved, a title. */
  readonly name: string;
  /** When it was saved, ISO 8601. */
  readonly saved: string;
  /** Software version that made its results; where it holds none, that saved it. */
  readonly software: string;
  readonly plan: OpenedFile | null;
  readonly points: SessionFile | null;
  readonly welds: SessionFile | null;
  /** Results as saved, for view without the points; null where the session held none. */
  readonly disc: ReducedDisc | null;
  /** Stands for `disc` where a job is asked for: `saveOutput`, `saveSession`. `featurePoints` needs a reduction. */
  readonly job: string | null;
  /** Older format that was brought up to date, e.g. `hubtrue-session/0`; null for the present one. */
  readonly migratedFrom: string | null;
  readonly warnings: readonly string[];
}

export interface MatchSessionFileRequest {
  readonly session: string;
  readonly role: 'points' | 'welds';
  /** Ticket of the file that the person chose. */
  readonly ticket: string;
}

export interface RecentSession {
  readonly ticket: string;
  readonly name: string;
  /** Name of the folder it lies in, without the folders above. */
  readonly folder: string;
  /** When it was last saved or opened here, ISO 8601. */
  readonly used: string;
  readonly title: string;
  /** Counts at the time, or null without results. */
  readonly summary: {
    readonly stations: number;
    readonly conforming: number;
    readonly nonconforming: number;
    readonly unproven: number;
    readonly missing: number;
  } | null;
}

/** An autosaved session that is newer than its saved file, or was never saved. */
export interface RecoverableSession {
  readonly ticket: string;
  readonly name: string;
  readonly autosaved: string;
  /** When its file was last saved; null: never. */
  readonly saved: string | null;
  /** True where another running Hubtrue of this account may still have it open. */
  readonly perhapsOpen: boolean;
}

export interface AutosaveRequest {
  readonly content: SessionContent;
  readonly session: string | null;
  readonly title?: string;
}

export type OutputKind =
  | 'stations.csv'
  | 'stations.xlsx'
  | 'result.json'
  | 'result.qif'
  | 'report.html'
  | 'report.pdf';

export interface SaveOutputRequest {
  readonly job: string;
  readonly kind: OutputKind;
  /** Reports only. */
  readonly language?: 'en' | 'de' | 'fr';
  readonly paper?: 'a4' | 'letter';
  /** Unit of lengths that are results. */
  readonly length?: 'mm' | 'µm' | 'inch';
}

/** What a report is to look like before it is saved. */
export type PreviewReportRequest = Omit<SaveOutputRequest, 'kind'>;

/** How a point file is cut and understood, in the words of the plan's `import` block. */
export interface ImportMapping {
  readonly encoding?: string | undefined;
  readonly delimiter?: string | undefined;
  readonly decimal?: '.' | ',' | undefined;
  readonly unit?: 'mm' | 'inch' | 'µm' | undefined;
  readonly header?: boolean | undefined;
  /** Role → header text or column number from 1; null: the file has no such column, whatever its headers say. */
  readonly columns?: Readonly<Record<string, string | number | null>> | undefined;
  readonly label?: string | undefined;
}

export interface PreviewRequest {
  /** Ticket of a point file. */
  readonly points: string;
  /** What the person has stated; everything else is detected. */
  readonly import?: ImportMapping;
  /** What a plan knows, where there is one already: points that it does not know are marked. */
  readonly plan?: {
    readonly stations: number;
    readonly hub: readonly string[];
    readonly blade: readonly string[];
  };
}

/** A row near the top of a point file, as text and as understood. */
export interface PreviewRow {
  readonly line: number;
  readonly cells: readonly string[];
  readonly kind: 'title' | 'header' | 'point' | 'unread';
  /** Null: the hub. */
  readonly station: number | null;
  readonly feature: string;
  /** Numbers of the roles that hold one, in the unit of the file; null where the cell holds none. */
  readonly values: Readonly<Record<string, number | null>>;
  /** Why the row gives no point. */
  readonly fault: string | null;
}

/** Points that share station and feature. */
export interface PreviewCount {
  /** Null: the hub. */
  readonly station: number | null;
  readonly feature: string;
  readonly count: number;
  /** First line of them. */
  readonly line: number;
  /** `stray`: the plan, or the shape of the file, has no place for them. */
  readonly standing: 'planned' | 'stray';
  readonly reason: string | null;
}

export interface PatternChoice {
  readonly pattern: string;
  /** A label of the file and what the pattern makes of it. */
  readonly example: { readonly label: string; readonly station: number; readonly feature: string };
  /** Different labels that it explains, and how many there are. */
  readonly matched: number;
  readonly labels: number;
}

/** What the points of a hub feature look like: a hint beside the drawing, nothing more. */
export interface FeatureShape {
  readonly feature: string;
  /** Shapes that fit; none where no simple one does. */
  readonly looks: readonly ('plane' | 'circle' | 'cylinder')[];
  /** Of the round one among them, mm. */
  readonly radius: number | null;
}

/** The circle on which the middles of the stations' points lie. */
export interface RingShape {
  /** mm */
  readonly radius: number;
  readonly stations: number;
}

/** A point file looked through before any plan has to be there. */
export interface PointsPreview {
  readonly name: string;
  readonly bytes: number;
  /** Rows below the header, and those of them that hold a point. */
  readonly rows: number;
  readonly points: number;
  /** Everything that was taken, stated or detected. */
  readonly taken: ImportMapping;
  /** Keys of `taken` that the request stated, such as `delimiter` or `columns.x`. */
  readonly stated: readonly string[];
  /** Why the unit was taken. */
  readonly unitBecause: 'stated' | 'header' | 'size' | 'nothing';
  /** Header, or number from 1, of every column. */
  readonly columnNames: readonly string[];
  readonly head: readonly PreviewRow[];
  readonly counts: readonly PreviewCount[];
  readonly patterns: readonly PatternChoice[];
  /** Extent of all points along x, y, z of the machine, in the unit of the file; null without points. */
  readonly extent: readonly [number, number, number] | null;
  readonly shapes: readonly FeatureShape[];
  readonly ring: RingShape | null;
  readonly problems: readonly Problem[];
}

/** Between the loopback host and its page: a file that goes along with an answer, for the browser to save. */
export interface Download {
  readonly name: string;
  readonly type: string;
  readonly base64: string;
}

/** What a menu of the desktop window asks of the page; in the browser the same keys do the same. */
export type AppCommand =
  | 'new-plan'
  | 'open'
  | 'save-session'
  | 'save-session-as'
  | 'save-report'
  | 'undo'
  | 'redo'
  | 'calculator'
  | 'shortcuts';

export interface HubtrueApi {
  /** Commands of the menu; never called in the browser. Returns the function that stops listening. */
  onCommand(listener: (command: AppCommand) => void): () => void;
  /** Files that the system asked the program to open (file association), also those of its start. */
  onOpened(listener: (files: readonly OpenedFile[]) => void): () => void;
  facts(): Promise<Outcome<HostFacts>>;
  /** Tickets for the files of a sample disc. */
  openSample(id: string): Promise<Outcome<readonly OpenedFile[]>>;
  /** Ask for files: native dialog on the desktop, file picker in the browser. An empty list means cancelled. */
  chooseFiles(): Promise<Outcome<readonly OpenedFile[]>>;
  /** Files dropped on the window; `File` objects of the page, typed loosely so that this floor needs no DOM. */
  openDropped(
    files: readonly { readonly name: string; readonly size: number }[],
  ): Promise<Outcome<readonly OpenedFile[]>>;
  /** Looks through a point file as it would be read, with or without a plan. */
  previewPoints(request: PreviewRequest): Promise<Outcome<PointsPreview>>;
  /** Every check of a plan before any point is read; an empty list means that it is sound. */
  checkPlan(request: { readonly text: string }): Promise<Outcome<readonly Problem[]>>;
  /** The text of an opened plan. */
  planText(request: {
    readonly plan: string;
  }): Promise<Outcome<{ readonly name: string; readonly text: string }>>;
  /** A ticket for a text that was made in this window. */
  openText(request: {
    readonly name: string;
    readonly role: FileRole;
    readonly text: string;
  }): Promise<Outcome<OpenedFile>>;
  /** Save dialog on the desktop, download in the browser; null when the person cancelled. */
  savePlan(request: {
    readonly name: string;
    readonly text: string;
  }): Promise<Outcome<{ readonly saved: string | null }>>;
  /** Starts a reduction; its events come to `onJob` listeners. */
  reduce(request: ReductionRequest): Promise<Outcome<{ readonly job: string }>>;
  cancel(job: string): Promise<Outcome<null>>;
  /** Residuals of one feature of a finished reduction; jobs of long ago may have been let go (`unknown-job`). */
  featurePoints(request: FeaturePointsRequest): Promise<Outcome<FeaturePoints>>;
  /** All features, together about `most` points (default 20 000). */
  discPoints(request: { readonly job: string; readonly most?: number }): Promise<Outcome<DiscPoints>>;
  /** Null: the person cancelled the dialog. */
  saveSession(request: SaveSessionRequest): Promise<Outcome<SavedSession | null>>;
  openSession(request: OpenSessionRequest): Promise<Outcome<OpenedSession>>;
  /** Takes the file where its SHA-256 is the session's; refused with `different-file` otherwise. */
  matchSessionFile(request: MatchSessionFileRequest): Promise<Outcome<OpenedFile>>;
  /** Keeps the work at hand in the account's own folder until it is saved or ended. Returns the handle. */
  autosave(
    request: AutosaveRequest,
  ): Promise<Outcome<{ readonly session: string; readonly autosaved: string }>>;
  /**
   * The work at hand is over (saved, or given up knowingly): its autosave goes. `keep`: the page goes away without that; the
   * autosave stays and is offered to the next page.
   */
  endSession(session: string, keep?: boolean): Promise<Outcome<null>>;
  recent(): Promise<Outcome<readonly RecentSession[]>>;
  /** Takes an entry off the list of recent sessions; the file stays. */
  forgetRecent(ticket: string): Promise<Outcome<null>>;
  recover(): Promise<Outcome<readonly RecoverableSession[]>>;
  /** Deletes an autosave for good. */
  discardRecovery(ticket: string): Promise<Outcome<null>>;
  /** Desktop: asks where to and writes the file whole; browser: a download. Null: cancelled. */
  saveOutput(request: SaveOutputRequest): Promise<Outcome<{ readonly name: string } | null>>;
  /** The report as it would be saved now, as HTML text. */
  previewReport(request: PreviewReportRequest): Promise<Outcome<{ readonly html: string }>>;
  /** Returns the function that stops listening. */
  onJob(listener: (event: JobEvent) => void): () => void;
}
