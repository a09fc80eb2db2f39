import { describe, expect, test } from 'vitest';
import type { OpenedFile, ReducedDisc } from '../../src-main/api.ts';
import { noExclusions } from '../../src-renderer/state/exclusions.ts';
import {
  absentFiles,
  changedStations,
  contentOf,
  isHandmade,
  markOf,
  noNotes,
  stationNote,
  type WorkAtHand,
  withStationNote,
} from '../../src-renderer/state/work.ts';
import { exampleDisc } from '../support/example-disc.ts';

const points: OpenedFile = { ticket: 't1', name: 'a.csv', bytes: 1, role: 'points' };
const plan: OpenedFile = { ticket: 't2', name: 'a.json', bytes: 1, role: 'plan' };
const work: WorkAtHand = { files: { points, plan }, exclusions: noExclusions, notes: noNotes, job: 'job-1' };

describe('notes', () => {
  test('of a station replace each other, in the order of the stations; an empty one goes', () => {
    let notes = withStationNote(noNotes, 7, 'seven');
    notes = withStationNote(notes, 3, 'three');
    notes = withStationNote(notes, 7, 'again');
    expect(notes.stations).toEqual([
      { station: 3, text: 'three' },
      { station: 7, text: 'again' },
    ]);
    expect(stationNote(notes, 7)).toBe('again');
    expect(withStationNote(notes, 3, '  ').stations).toHaveLength(1);
  });
});

describe('work', () => {
  test('goes to the main floor by tickets', () => {
    expect(contentOf(work)).toEqual({
      points: 't1',
      plan: 't2',
      welds: null,
      exclusions: [],
      excludedFeatures: [],
      notes: noNotes,
      job: 'job-1',
    });
  });

  test('is other work with other files, exclusions or notes, but not for a job of another name', () => {
    const mark = markOf(work);
    expect(markOf({ ...work, job: 'job-2' })).toBe(mark);
    expect(markOf({ ...work, job: null })).not.toBe(mark);
    expect(markOf({ ...work, files: { points } })).not.toBe(mark);
    expect(markOf({ ...work, notes: { ...noNotes, disc: 'x' } })).not.toBe(mark);
    const exclusions = { points: [{ line: 3, reason: 'chip' }], features: [] };
    expect(markOf({ ...work, exclusions })).not.toBe(mark);
    expect(isHandmade({ ...work, exclusions })).toBe(true);
    expect(isHandmade(work)).toBe(false);
  });

  test('lacks the files that were not found as they were', () => {
    const absent = { state: 'absent', name: 'a.csv', bytes: 9, sha256: 'ab' } as const;
    expect(absentFiles({ points: absent, welds: null })).toEqual([{ ...absent, role: 'points' }]);
    expect(absentFiles({ points: { state: 'found', file: points }, welds: null })).toEqual([]);
  });
});

describe('a result reduced again', () => {
  const disc = exampleDisc();
  const other = (change: (station: ReducedDisc['result']['stations'][number]) => object): ReducedDisc => ({
    ...disc,
    result: {
      ...disc.result,
      stations: disc.result.stations.map((station, index) =>
        index === 1 ? { ...station, ...change(station) } : station,
      ),
    },
  });
  const second = disc.result.stations[1]?.station;

  test('is the saved one, but for the last digits of a number', () => {
    expect(changedStations(disc, disc)).toEqual([]);
    const nearly = other(({ position }) => ({
      position: { ...position, value: (position.value ?? 0) + 1e-12 },
    }));
    expect(changedStations(disc, nearly)).toEqual([]);
  });

  test('is another where a value, a verdict or a station differs', () => {
    const moved = other(({ position }) => ({
      position: { ...position, value: (position.value ?? 0) + 1e-6 },
    }));
    expect(changedStations(disc, moved)).toEqual([second]);
    expect(
      changedStations(
        disc,
        other(() => ({ verdict: 'unproven' })),
      ),
    ).toEqual([second]);
    const fewer = { ...disc, result: { ...disc.result, stations: disc.result.stations.slice(1) } };
    expect(changedStations(disc, fewer)).toEqual([disc.result.stations[0]?.station]);
  });
});
