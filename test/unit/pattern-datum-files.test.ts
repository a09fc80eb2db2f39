/** Plans with criteria, screens, common datums and patterns, from their files to the result. */
import { describe, expect, it } from 'vitest';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { conformingDisc, csv, type DiscText, writeDisc } from '../support/disc-files.ts';

// biome-ignore lint/suspicious/noExplicitAny: tests change any value of the plan
type Change = (plan: any, disc: DiscText) => void;

async function reduceChanged(change: Change) {
  const disc = conformingDisc();
  change(disc.plan, disc);
  const { points, plan } = writeDisc(csv(disc), disc.plan);
  return runReduction({ pointsPath: points, planPath: plan });
}

/** The rows of one hub feature. */
const rowsOf = ({ header, rows }: DiscText, feature: string): string[][] =>
  rows.filter((row) => row[header.indexOf('feature')] === feature && row[header.indexOf('station')] === '');

describe('a disc from its files', () => {
  it('has a pattern of face and bore as its first datum', async () => {
    const { result, plan } = await reduceChanged((p) => {
      const [face, bore, slot] = p.disc.datums;
      const member = ({ label: _, ...rest }: Record<string, unknown>) => rest;
      p.disc.datums = [{ label: 'A', type: 'pattern', members: [member(face), member(bore)] }, slot];
    });
    const usual = (await reduceChanged(() => {})).result;
    expect(result.summary.stations).toBe(18);
    expect(result.summary.missing).toEqual([]);
    expect(result.frame.datums[0]).toMatchObject({
      label: 'A',
      type: 'pattern',
      feature: 'HUB-FACE, HUB-BORE',
    });
    expect(result.frame.datums[0]!.fixes.join('; ')).toContain('the two rotations that tilt');
    expect(plan.hubDatums[0]).toBe('A HUB-FACE and HUB-BORE (pattern)');
    // Face and bore agree on this disc to some micrometres, so that the order in which they count changes little.
    result.stations.forEach((s, i) => {
      expect(s.position.value!).toBeCloseTo(usual.stations[i]!.position.value!, 1);
      expect(s.position.value!).not.toBe(usual.stations[i]!.position.value!);
    });
  });

  it('has one face in two parts as a common datum, with the same result', async () => {
    const { result } = await reduceChanged((p, disc) => {
      const rows = rowsOf(disc, 'HUB-FACE');
      const at = disc.header.indexOf('feature');
      for (const [i, row] of rows.entries()) row[at] = i < rows.length / 2 ? 'PAD-1' : 'PAD-2';
      delete p.disc.datums[0].feature;
      p.disc.datums[0].features = ['PAD-1', 'PAD-2'];
    });
    const usual = (await reduceChanged(() => {})).result;
    expect(result.frame.datums[0]!.feature).toBe('PAD-1, PAD-2');
    expect(result.source.points.excluded).toEqual([]);
    result.stations.forEach((s, i) => {
      expect(s.position.value!).toBeCloseTo(usual.stations[i]!.position.value!, 10);
    });
  });

  it.each([
    [false, /used: check them/],
    [true, /left out, as the plan asks: 1 in all/],
  ])('screens a far point of the face, exclude %s', async (exclude, words) => {
    const { result, warnings } = await reduceChanged((p, disc) => {
      p.disc.datums[0].screen = { method: 'biweight', cutoff: 6, exclude };
      // 0.4 mm along the machine's z is far in any attitude of the face but edge-on.
      const row = rowsOf(disc, 'HUB-FACE')[4]!;
      const z = disc.header.indexOf('z');
      row[z] = String(Number(row[z]) + 0.4);
    });
    expect(result.screened).toEqual([
      // The fifth point stands in the sixth line, below the header.
      {
        station: null,
        feature: 'HUB-FACE',
        point: 5,
        line: 6,
        distance: expect.any(Number),
        excluded: exclude,
      },
    ]);
    expect(Math.abs(result.screened[0]!.distance)).toBeGreaterThan(0.2);
    expect(warnings.join('\n')).toMatch(words);
  });

  it('associates a bore by what the plan says', async () => {
    const radius = async (association: string): Promise<number> =>
      (
        await reduceChanged((p) => {
          p.disc.datums[1].association = association;
        })
      ).result.frame.datums[1]!.radius!;
    const [inscribed, least, circumscribed, outer] = await Promise.all(
      ['maximum-inscribed', 'gaussian', 'minimum-circumscribed', 'gaussian-outer'].map(radius),
    );
    expect(inscribed).toBeLessThan(least!);
    expect(circumscribed).toBeGreaterThan(least!);
    // Outside the material of a bore is inside the bore.
    expect(outer).toBeLessThan(least!);
  });
});
