/** What a session file holds of the work at hand, and whether it holds all of it. Plain functions and values. */
import type { StationResult } from '../../shared-math/result.ts';
import type {
  OpenedSession,
  ReducedDisc,
  SessionContent,
  SessionFile,
  SessionNotes,
} from '../../src-main/api.ts';
import type { Exclusions } from './exclusions.ts';
import type { GivenFiles } from './files.ts';

export const noNotes: SessionNotes = { disc: '', stations: [] };

export function withStationNote(notes: SessionNotes, station: number, text: string): SessionNotes {
  const others = notes.stations.filter((entry) => entry.station !== station);
  const stations = text.trim() === '' ? others : [...others, { station, text }];
  return { ...notes, stations: stations.sort((a, b) => a.station - b.station) };
}

export function stationNote(notes: SessionNotes, station: number | null): string {
  return notes.stations.find((entry) => entry.station === station)?.text ?? '';
}

export interface WorkAtHand {
  readonly files: GivenFiles;
  readonly exclusions: Exclusions;
  readonly notes: SessionNotes;
  readonly job: string | null;
}

export function contentOf({ files, exclusions, notes, job }: WorkAtHand): SessionContent {
  return {
    points: files.points?.ticket ?? null,
    plan: files.plan?.ticket ?? null,
    welds: files.welds?.ticket ?? null,
    exclusions: exclusions.points,
    excludedFeatures: exclusions.features,
    notes,
    job,
  };
}

/** Two states with one mark are the same work. The result follows from the rest, so only its being there counts. */
export function markOf(work: WorkAtHand): string {
  return JSON.stringify({ ...contentOf(work), job: work.job !== null });
}

/** Whether anything in it was made by hand, rather than found in files that are still there. */
export function isHandmade({ exclusions, notes }: Pick<WorkAtHand, 'exclusions' | 'notes'>): boolean {
  return (
    exclusions.points.length > 0 ||
    exclusions.features.length > 0 ||
    notes.disc.trim() !== '' ||
    notes.stations.length > 0
  );
}

/** Files that a session names and that are not there as they were. */
export type AbsentFile = Exclude<SessionFile, { readonly state: 'found' }> & {
  readonly role: 'points' | 'welds';
};

export function absentFiles({
  points,
  welds,
}: Pick<OpenedSession, 'points' | 'welds'>): readonly AbsentFile[] {
  return [['points', points] as const, ['welds', welds] as const].flatMap(([role, file]) =>
    file === null || file.state === 'found' ? [] : [{ ...file, role }],
  );
}

/** Largest difference that another processor may make, mm and rad. */
const SAME = 1e-9;

function isSame(a: number | null, b: number | null): boolean {
  return a === b || (a !== null && b !== null && Math.abs(a - b) <= SAME);
}

function numbersOf({ position, error, limits }: StationResult): readonly (number | null)[] {
  return [
    position.value,
    position.expanded,
    ...Object.values(error),
    ...limits.flatMap(({ value, expanded }) => [value, expanded]),
  ];
}

/** Stations whose result here is another than the saved one. */
export function changedStations(saved: ReducedDisc, again: ReducedDisc): readonly number[] {
  const before = new Map(saved.result.stations.map((entry) => [entry.station, entry]));
  const after = new Map(again.result.stations.map((entry) => [entry.station, entry]));
  const isChanged = (station: number): boolean => {
    const [a, b] = [before.get(station), after.get(station)];
    if (a === undefined || b === undefined || a.verdict !== b.verdict) return true;
    const [one, other] = [numbersOf(a), numbersOf(b)];
    return one.length !== other.length || one.some((value, index) => !isSame(value, other[index] ?? null));
  };
  return [...new Set([...before.keys(), ...after.keys()])].filter(isChanged).sort((a, b) => a - b);
}
