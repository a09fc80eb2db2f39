/** Why a correction is not recommended. */
import { describe, expect, it } from 'vitest';
import type { Correction } from '../../shared-math/diagnosis/corrections/correction.ts';
import { objectionsTo } from '../../shared-math/diagnosis/corrections/objections.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import { spokenCorrection } from '../../src-renderer/views/corrections/corrections-chart.tsx';
import { exampleCorrections } from '../support/example-corrections.ts';
import { exampleDisc } from '../support/example-disc.ts';

const disc = exampleDisc();
const { stations } = disc.result;
const now = stations.filter(({ verdict }) => verdict === 'conforming').length;
const found = exampleCorrections(disc);
const hub = found.find(({ kind }) => kind === 'hub')!;
const all = found.find(({ kind }) => kind === 'all')!;
const against = (correction: Correction, parts: readonly Correction[] = []) =>
  objectionsTo(correction, parts, stations);
const outlook = (expected: number) => ({ expected, low: expected - 0.01, high: expected + 0.01 });
const next = (expected: number) => ({ unchanged: outlook(0.1), corrected: outlook(expected) });

describe('a correction is recommended', () => {
  const told = { ...hub, chasesNoise: false };

  it('unless fewer stations would conform than now', () => {
    expect(told.predicted.length).toBe(stations.length);
    expect(against({ ...told, conforming: now })).toEqual([]);
    expect(against({ ...told, conforming: now + 1 })).toEqual([]);
    expect(against({ ...told, conforming: now - 1 })).toEqual(['fewer']);
  });

  it('unless it chases noise, and both reasons are given', () => {
    expect(against({ ...told, chasesNoise: true, conforming: now })).toEqual(['noise']);
    expect(against({ ...told, chasesNoise: true, conforming: now - 1 })).toEqual(['fewer', 'noise']);
  });
});

describe('a row of the chart', () => {
  const units: Units = { length: 'µm', rotation: 'arc-second' };
  const told = { ...hub, chasesNoise: false };
  const spoken = (correction: Correction): string => spokenCorrection(correction, disc, units);

  it('says in words what speaks against it', () => {
    expect(spoken({ ...told, conforming: now })).not.toContain('recommended');
    expect(spoken({ ...told, conforming: now, chasesNoise: true })).toMatch(/not recommended: chases noise$/);
    expect(spoken({ ...told, conforming: now - 1 })).toMatch(/not recommended: fewer conform$/);
  });
});

describe('all settings together', () => {
  const together = {
    ...all,
    conforming: now,
    before: 0.1,
    after: 0.04,
    noiseGain: 0.02,
    next: next(0.05),
    chasesNoise: true,
  };
  const single = (expected: number): Correction => ({ ...hub, next: next(expected) });

  it('give way to a single kind that does as well on the next disc', () => {
    expect(against(together, [single(0.05), together])).toEqual(['simpler']);
    expect(against(together, [single(0.06), together])).toEqual(['noise']);
  });

  it('are fitted to scatter where scatter alone would offer as much, whatever else does', () => {
    expect(against({ ...together, noiseGain: 0.07 }, [single(0.05)])).toEqual(['noise']);
  });
});
