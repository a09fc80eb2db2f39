/** Failures of the mathematics in English: what failed, and what to do. */
import type { Degeneracy, Fitted, Owner, Phrasebook } from './notes.ts';

/** Where it is another word than the code. */
const NOUNS: Readonly<Partial<Record<Fitted, string>>> = {
  midplane: 'mid-plane',
  face: 'face of the mid-plane',
  normal: 'common normal of the mid-plane',
  'circle-plane': 'plane of the circle',
};
const nounOf = (what: Fitted): string => NOUNS[what] ?? what;

const NEEDING: Readonly<Partial<Record<Fitted, string>>> = {
  face: 'Each face of a mid-plane',
  feature: 'The feature',
};

/** What the points lack, and what would mend it. */
const DEGENERATE: Readonly<Record<Degeneracy, (noun: string) => readonly [string, string]>> = {
  'same-place': () => ['all points are at the same place', 'spread the points out'],
  'one-line': () => ['all points lie on one line', 'add points away from that line'],
  'one-plane': () => ['all points lie in one plane', 'add points away from that plane'],
  'line-along-direction': () => [
    'seen along its direction, all points lie on one line',
    'check that direction',
  ],
  'several-around': (noun) => [`several ${noun}s fit alike`, 'spread the points along and around it'],
  'several-out': (noun) => [`several ${noun}s fit alike`, 'spread the points out'],
  'no-taper': () => ['the points show no taper', 'treat it as a cylinder if it is one'],
  'not-surrounded': () => [
    'the points do not surround its centre, so it slips out between them',
    'spread the points over more than half a turn',
  ],
  'far-optimum': () => [
    'its optimum does not lie anywhere near the least-squares feature',
    'spread the points over more of it',
  ],
  alike: () => ['the points spread alike in all directions', 'keep to one surface'],
  'no-effect': () => ['its direction does not change the distances', 'spread the points out'],
  'no-main-direction': () => ['the points have no main direction', 'spread them out along the line'],
};

const ownerWords = (station: Owner): string => (station === null ? 'The hub' : `Station ${station}`);
const sideOf = (datum: string): string =>
  `Add "side": "inside" (a bore) or "side": "outside" (a shaft) to datum ${datum}`;

export const englishFailures: Phrasebook['failures'] = {
  'feature-without-points': ({ station, feature, datum }) => ({
    message: `${ownerWords(station)} has no points of feature ${feature} (datum ${datum}).`,
    remedy: 'Measure the feature, or correct its name in the file or in the plan.',
  }),
  'too-few-points': ({ what, needed, found }) => ({
    message: `${NEEDING[what] ?? `A ${nounOf(what)}`} needs at least ${needed} point${needed === 1 ? '' : 's'}, got ${found}.`,
    remedy: 'Measure more points on this feature or take it out of the plan.',
  }),
  'too-few-on-faces': ({ needed, found }) => ({
    message: `A mid-plane needs at least ${needed} points on its two faces, got ${found}.`,
    remedy: 'Measure more points on these faces.',
  }),
  degenerate: ({ what, by, why }) => {
    const noun = nounOf(what);
    const [lack, remedy] = DEGENERATE[why](noun);
    const which =
      by === null
        ? `The ${noun}`
        : by === 'criterion'
          ? `The ${noun} by this criterion`
          : `The maximum inscribed ${noun}`;
    return {
      message: `${which} is not determined by its points: ${lack}.`,
      remedy: `Measure it again and ${remedy}.`,
    };
  },
  'directions-not-settled': ({ what }) => ({
    message: `The fit of the ${what} did not settle from any starting direction.`,
    remedy: 'Check that the points belong to this feature and that its nominal values are right.',
  }),
  'fit-not-settled': () => ({
    message: 'The fit did not settle.',
    remedy: 'Check that the points belong to this feature and that its nominal values are right.',
  }),
  'contacts-uncertain': () => ({
    message: 'The contact points of the feature could not be made certain.',
    remedy: 'Measure more points spread over the feature, or associate it by least squares.',
  }),
  'exchange-endless': () => ({
    message: 'The exchange of contact points did not end.',
    remedy: 'Check the points for repeated or damaged coordinates.',
  }),
  'tips-without-side': ({ what }) => ({
    message: `A ${what} has no side, so the probe radius of its tip-centre points cannot be taken off after the fit.`,
    remedy: 'Export this feature with surface normals or as surface points.',
  }),
  'side-unknown': ({ datum, feature }) => ({
    message: `Datum ${datum} (${feature}) has tip-centre points without normals, and the plan does not say on which side the material lies.`,
    remedy: `${sideOf(datum)}, or export i, j, k.`,
  }),
  'tips-without-normals': ({ datum, feature, type }) => ({
    message: `Datum ${datum} (${feature}) is a ${type}: its tip-centre points cannot be compensated without normals.`,
    remedy: 'Export i, j, k with these points, or export them as surface points without a tip radius.',
  }),
  'mixed-tips': ({ datum, features }) => ({
    message: `The faces of mid-plane ${datum} (${features.join(', ')}) were probed with different tip radii and have no normals.`,
    remedy: 'Export i, j, k with these points, or probe both faces with one tip.',
  }),
  'sigma-missing': ({ datum, feature }) => ({
    message: `Datum ${datum} (${feature}) is to be weighted by sigma, but not every point has a sigma above 0.`,
    remedy: 'Export a sigma for every point of the feature, or leave out "weights": "sigma".',
  }),
  'outer-side-unknown': ({ datum, type }) => ({
    message: `Datum ${datum} is to touch its material from outside, and the plan does not say on which side of the ${type} the material lies.`,
    remedy: `${sideOf(datum)}.`,
  }),
  'pattern-undetermined': ({ datum }) => ({
    message: `The points of pattern ${datum} do not determine all that its features do.`,
    remedy: 'Spread the points over each of its features, for example over the depth of a hole.',
  }),
  'clocking-off-axis': ({ datum, features }) => ({
    message: `Clocking datum ${datum} (${features.join(', ')}) lies farther from the axis than the radius of its nominal point.`,
    remedy: 'Correct the nominal point of the datum, or set its clocking to "direction".',
  }),
  other: ({ message, remedy }) => ({ message, remedy }),
};
