/**
 * Plans to start from: common orders of datums, with the names of the point file put where they seem to belong. Numbers
 * that only the drawing knows stay empty. The orders are common practice, no source.
 */
import type { PointsPreview } from '../../../src-main/api.ts';
import { type Draft, type Json, listAt, textAt, withValue } from './draft.ts';
import { featureNames } from './nominal.ts';
import { shapeOf } from './shape-hints.ts';

interface DatumStart {
  readonly type: string;
  /** Words that a fitting feature name holds. */
  readonly words: readonly string[];
  readonly count?: 2;
  readonly nominal: Json;
  readonly side?: string;
}

export interface StartingPoint {
  readonly id: string;
  readonly title: string;
  readonly meaning: string;
  readonly hub: readonly DatumStart[];
  readonly blade: readonly DatumStart[];
}

const face: DatumStart = {
  type: 'plane',
  words: ['face', 'flange', 'plan'],
  nominal: { point: [0, 0, 0], direction: [0, 0, 1] },
};
const bore: DatumStart = {
  type: 'cylinder',
  words: ['bore', 'pilot', 'centre', 'center', 'dia', 'cyl'],
  nominal: { point: [0, 0, 0], direction: [0, 0, 1] },
  side: 'inside',
};
const slot: DatumStart = {
  type: 'midplane',
  words: ['slot', 'key', 'groove'],
  count: 2,
  nominal: { point: [null, 0, 0], direction: [0, 1, 0] },
};
const hole: DatumStart = {
  type: 'circle',
  words: ['hole', 'pin', 'dowel', 'bolt'],
  nominal: { point: [null, 0, 0], direction: [0, 0, 1] },
  side: 'inside',
};
const flat: DatumStart = {
  type: 'plane',
  words: ['flat', 'clock', 'stop'],
  nominal: { point: [null, 0, 0], direction: [1, 0, 0] },
};

const bladePlanes: readonly DatumStart[] = [
  {
    type: 'plane',
    words: ['flank', 'side', 'pressure', 'suction'],
    nominal: { point: [0, null, null], direction: [0, 1, 0] },
  },
  {
    type: 'plane',
    words: ['edge', 'end', 'lead', 'front'],
    nominal: { point: [null, 0, null], direction: [1, 0, 0] },
  },
  {
    type: 'plane',
    words: ['seat', 'root', 'platform', 'base', 'top'],
    nominal: { point: [0, 0, null], direction: [0, 0, 1] },
  },
];

export const startingPoints: readonly StartingPoint[] = [
  {
    id: 'face-bore-slot',
    title: 'Face – bore – slot',
    meaning: 'The disc stands on its face; the bore centres it square to the face; a slot clocks it.',
    hub: [face, bore, slot],
    blade: bladePlanes,
  },
  {
    id: 'face-bore-hole',
    title: 'Face – bore – hole',
    meaning: 'As before, clocked by the azimuth of a hole or pin.',
    hub: [face, bore, hole],
    blade: bladePlanes,
  },
  {
    id: 'bore-face-hole',
    title: 'Bore – face – hole',
    meaning: 'A long bore gives the axis; the face only the height; a hole clocks it.',
    hub: [bore, face, hole],
    blade: bladePlanes,
  },
  {
    id: 'bore-face-flat',
    title: 'Bore – face – flat',
    meaning: 'A long bore gives the axis; the face the height; a flat clocks it by its direction.',
    hub: [bore, face, flat],
    blade: bladePlanes,
  },
  {
    id: 'blank',
    title: 'Blank',
    meaning: 'No datum yet: add them one by one, and watch what stays open.',
    hub: [],
    blade: [],
  },
];

/** Features of the hub and of the blades as the look at the points found them. */
export function featuresSeen(preview: PointsPreview | null): {
  readonly hub: readonly string[];
  readonly blade: readonly string[];
  readonly stations: number;
} {
  const planned = (preview?.counts ?? []).filter(({ reason }) => reason === null);
  const names = (ofHub: boolean): readonly string[] => [
    ...new Set(planned.filter(({ station }) => (station === null) === ofHub).map(({ feature }) => feature)),
  ];
  return {
    hub: names(true),
    blade: names(false),
    stations: Math.max(0, ...planned.map(({ station }) => station ?? 0)),
  };
}

/** The draft with the datums of a starting point; the number of stations and the mapping come from the points. */
export function startedFrom(draft: Draft, start: StartingPoint, preview: PointsPreview | null): Draft {
  const seen = featuresSeen(preview);
  let letter = 'A'.charCodeAt(0);
  const datumsOf = (starts: readonly DatumStart[], names: readonly string[]): Json => {
    const free = [...names];
    // Where no name fits, the shape of the points may.
    const alike = (type: string): readonly string[] =>
      free.filter((name) => shapeOf(preview, name)?.looks.some((look) => look === type) === true).slice(0, 1);
    return starts.map(({ type, words, count = 1, nominal, side }) => {
      const named = matching(free, words, count);
      const taken = named.length > 0 ? named : alike(type);
      for (const name of taken) free.splice(free.indexOf(name), 1);
      const owner: { readonly [key: string]: Json } =
        count === 2 ? { features: taken } : taken[0] === undefined ? {} : { feature: taken[0] };
      return {
        label: String.fromCharCode(letter++),
        ...owner,
        type,
        nominal,
        ...(side === undefined ? {} : { side }),
      };
    });
  };
  let next = withValue(draft, ['disc', 'datums'], datumsOf(start.hub, seen.hub));
  next = withValue(next, ['blade', 'datums'], datumsOf(start.blade, seen.blade));
  if (seen.stations > 0 && listAt(draft, ['disc', 'angles']).length === 0)
    next = withValue(next, ['disc', 'stations'], seen.stations);
  return next;
}

/** The names that hold one of the words, in the order of the words. */
function matching(names: readonly string[], words: readonly string[], count: number): readonly string[] {
  const found = words.flatMap((word) => names.filter((name) => name.toLowerCase().includes(word)));
  return [...new Set(found)].slice(0, count);
}

/** Features of the points that no datum of the list has taken yet. */
export function freeFeatures(
  draft: Draft,
  owner: 'disc' | 'blade',
  preview: PointsPreview | null,
): readonly string[] {
  const taken = new Set(listAt(draft, [owner, 'datums']).flatMap(featureNames));
  const seen = featuresSeen(preview);
  return (owner === 'disc' ? seen.hub : seen.blade).filter((name) => !taken.has(name));
}

/** The first letter that no datum has; I, O and Q are left out, as on drawings (ASME Y14.5). */
export function nextLabel(draft: Draft): string {
  const used = new Set(
    (['disc', 'blade'] as const).flatMap((owner) =>
      listAt(draft, [owner, 'datums']).map((datum) => textAt(datum, ['label'])),
    ),
  );
  const letters = [...'ABCDEFGHJKLMNPRSTUVWXYZ'];
  return letters.find((letter) => !used.has(letter)) ?? `Z${used.size}`;
}
